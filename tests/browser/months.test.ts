import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium } from './chromium'
import { open } from './open'
import { PLANT_MONTH, PLANT_MS, type Plant, type Visit, visitPlant } from './plant'

const chromium = findChromium()

describe.skipIf(!chromium)('an energy manager at the end of a month', () => {
  let visit: Visit
  let plant: Plant
  let page: Page

  beforeAll(async () => {
    visit = await visitPlant(`/months/${PLANT_MONTH}`)
    plant = visit.plant
    page = visit.page
  }, PLANT_MS)

  afterAll(() => visit?.leave())

  const faults = () => visit.faults()
  const table = () => page.getByRole('region', { name: 'Waste by machine and kind' })

  it('narrows the month to a machine and a kind of waste, and finds both again by the address', async () => {
    const [{ name }] = plant.machines
    expect(await faults()).toEqual([])
    const shown = page.getByRole('region', { name: 'What is shown' })
    await shown.getByLabel(/^Machine/).selectOption(name)
    await shown.getByLabel(/^Kind of waste/).selectOption('Idle')
    await page.getByText('show 1 of 2 machines').waitFor()
    await open(page, page.url())
    await page.getByText('show 1 of 2 machines').waitFor()
    await expect.poll(() => table().locator('tbody tr').count()).toBe(1)
    expect(await table().locator('tbody tr').first().textContent()).toContain(name)
  }, 240_000)

  it('opens a figure by keyboard to its formula, interval and logs, and is back where it was', async () => {
    const figure = table().locator('button.opens').first()
    await figure.focus()
    await page.keyboard.press('Enter')
    const dialog = page.getByRole('dialog', { name: /measured energy$/ })
    await dialog.waitFor()
    for (const part of ['Formula', '95 % interval', 'Source logs'])
      await expect.poll(() => dialog.textContent()).toContain(part)
    const source = dialog.getByRole('link').first()
    await expect.poll(() => source.getAttribute('href')).toContain(plant.machines[0].logId)
    expect(await faults()).toEqual([])
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'hidden' })
    await expect.poll(() => figure.evaluate((element) => element === document.activeElement)).toBe(true)
  }, 120_000)

  it('closes the month with a note and opens it again for a reason; both are kept', async () => {
    await page.getByText(/^Close .+ …$/).click()
    await page.getByLabel('Your name').last().fill('Ada')
    await page.getByLabel('Note').last().fill('meters read')
    await page.getByRole('button', { name: /^Close .+ with these figures$/ }).click()
    await page.getByRole('heading', { name: 'This month is closed' }).waitFor()
    await page.getByText('Closed by Ada: these are the figures of its closing').waitFor()
    await page.getByText('Open it again …').click()
    await page.getByLabel('Reason').fill('a log came late')
    await page.getByRole('button', { name: /^Open .+ again$/ }).click()
    await page.getByRole('heading', { name: 'Close the month' }).waitFor()
    await page.getByText('What was done to this month').click()
    for (const said of ['meters read', 'a log came late']) await page.getByText(said).first().waitFor()
  }, 240_000)
})
