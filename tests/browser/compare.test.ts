import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium } from './chromium'
import { open } from './open'
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
    const sorted = (order: string) =>
      page.locator(`thead th[aria-sort=${order}]`, { hasText: /^Idle/ }).waitFor()
    await sort.click()
    await sorted('descending')
    const most = await names()
    await sort.click()
    await sorted('ascending')
    expect(await names()).toEqual([...most].reverse())
    await page.getByText('Columns', { exact: true }).click()
    await page.getByLabel('By month').uncheck()
    await page.getByText(/^Saved views/).click()
    await page.getByLabel('Save what is shown as').fill('Least idle first')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('“Least idle first” was saved.').waitFor()
    await open(page, `${plant.app.address}/machines`)
    await expect.poll(heads).toContainEqual(expect.stringMatching(/^By month/))
    await page.getByText('Saved views (1)').click()
    await page.getByRole('link', { name: 'Least idle first' }).click()
    await page.waitForURL(/\?/)
    await expect.poll(names).toEqual([...most].reverse())
    await expect.poll(heads).not.toContainEqual(expect.stringMatching(/^By month/))
  }, 240_000)

  it('narrows the list by search, and lays two machines over one another', async () => {
    await open(page, `${plant.app.address}/machines`)
    const [first, second] = plant.machines
    await page.getByLabel('Search').fill(first.name)
    await page.getByText('1 of 2 rows').waitFor()
    await page.getByRole('button', { name: 'Clear' }).click()
    for (const { name } of [first, second]) await page.getByLabel(`Compare ${name}`).check()
    await page.getByRole('link', { name: 'Lay 2 machines over one another' }).click()
    await page.getByRole('heading', { name: 'Where each kWh goes' }).waitFor()
    const head = page.getByRole('region', { name: 'Time by phase' }).locator('thead th')
    await expect
      .poll(async () => (await head.allTextContents()).join())
      .toMatch(new RegExp(`${first.name}.+${second.name}`))
    expect(await faults()).toEqual([])
  }, 240_000)
})
