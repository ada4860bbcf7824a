import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium } from './chromium'
import { PLANT_MS, type Plant, type Visit, visitPlant } from './plant'

const chromium = findChromium()

describe.skipIf(!chromium)('whoever compares machines', () => {
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
  const names = () => page.locator('.grid-scroll tbody th').allTextContents()
  const heads = () => page.locator('.grid-scroll thead th').allTextContents()

  it('sorts, chooses columns and finds the view again by its name', async () => {
    expect(await faults()).toEqual([])
    const sort = page.locator('thead').getByRole('button', { name: /^Idle/ })
    await sort.click()
    const most = await names()
    await sort.click()
    expect(await names()).toEqual([...most].reverse())
    await page.getByText('Columns', { exact: true }).click()
    await page.getByLabel('By month').uncheck()
    await page.getByText(/^Saved views/).click()
    await page.getByLabel('Save what is shown as').fill('Least idle first')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('“Least idle first” was saved.').waitFor()
    await page.goto(`${plant.app.address}/machines`)
    expect((await heads()).some((head) => head.startsWith('By month'))).toBe(true)
    await page.getByText('Saved views (1)').click()
    await page.getByRole('link', { name: 'Least idle first' }).click()
    await page.waitForURL(/\?/)
    expect(await names()).toEqual([...most].reverse())
    expect((await heads()).some((head) => head.startsWith('By month'))).toBe(false)
  }, 240_000)

  it('narrows the list by search, and lays two machines over one another', async () => {
    await page.goto(`${plant.app.address}/machines`)
    const [first, second] = plant.machines
    await page.getByLabel('Search').fill(first.name)
    await page.getByText('1 of 2 rows').waitFor()
    await page.getByRole('button', { name: 'Clear' }).click()
    for (const { name } of [first, second]) await page.getByLabel(`Compare ${name}`).check()
    await page.getByRole('link', { name: 'Lay 2 machines over one another' }).click()
    await page.getByRole('heading', { name: 'Where each kWh goes' }).waitFor()
    const head = page.getByRole('region', { name: 'Time by phase' }).locator('thead th')
    expect((await head.allTextContents()).join()).toMatch(new RegExp(`${first.name}.+${second.name}`))
    expect(await faults()).toEqual([])
  }, 240_000)
})
