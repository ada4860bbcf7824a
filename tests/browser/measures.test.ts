import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium } from './chromium'
import { open } from './open'
import { PLANT_MS, type Plant, type Visit, visitPlant } from './plant'

const chromium = findChromium()

describe.skipIf(!chromium)('a plant manager who decides', () => {
  let visit: Visit
  let plant: Plant
  let page: Page

  beforeAll(async () => {
    visit = await visitPlant()
    plant = visit.plant
    page = visit.page
  }, PLANT_MS)

  afterAll(() => visit?.leave())

  const faults = () => visit.faults()
  const propose = async (title: string) => {
    await open(page, `${plant.app.address}/measures`)
    await page.getByText('Propose a measure of your own').first().click()
    await page.getByLabel('What is to be done').fill(title)
    await page.getByLabel('Saves at least').fill('800')
    await page.getByLabel('Saves most likely').fill('1000')
    await page.getByLabel('Saves at most').fill('1300')
    await page.getByRole('button', { name: 'Propose it' }).click()
    await page.getByRole('heading', { name: title }).waitFor()
  }
  const step = (name: string) => page.getByRole('button', { name, exact: true }).click()
  const history = () => page.locator('section', { has: page.getByRole('heading', { name: 'History' }) })

  it('proposes a measure, approves it and marks it as installed; its promise and every step are kept', async () => {
    await propose('New suction line')
    await step('Approve')
    await page.getByRole('button', { name: 'Mark as installed' }).waitFor()
    await page.getByRole('form', { name: 'Next step' }).getByLabel(/^On/).fill('2026-09-20')
    await step('Mark as installed')
    await page.getByRole('button', { name: 'Back to ordered' }).waitFor()
    const steps = () => history().locator('tbody tr').allTextContents()
    await expect.poll(steps).toHaveLength(3)
    expect((await steps())[0]).toContain('2026-09-20')
    await page.getByText('1,000', { exact: false }).first().waitFor()
    expect(await faults()).toEqual([])
  }, 240_000)

  it('cannot reject one without a reason', async () => {
    await propose('Larger tank')
    await step('Reject')
    await page.locator('p.error').first().waitFor()
    expect(await history().locator('tbody tr').count()).toBe(1)
    await page.getByLabel('Why').fill('no room for it')
    await step('Reject')
    await history().getByText('no room for it').waitFor()
    await open(page, `${plant.app.address}/measures`)
    await page.getByRole('cell', { name: 'rejected' }).waitFor()
  }, 240_000)
})
