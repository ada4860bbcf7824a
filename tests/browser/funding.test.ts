import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium } from './chromium'
import { PLANT_MS, type Visit, visitPlant } from './plant'

const BUDGET = 5000
const chromium = findChromium()
const numberIn = (text: string | null | undefined) => Number((text ?? '').replaceAll(/[^\d.]/g, ''))

describe.skipIf(!chromium)('a plant manager with a budget', () => {
  let visit: Visit
  let page: Page

  beforeAll(async () => {
    visit = await visitPlant('/funding')
    page = visit.page
  }, PLANT_MS)

  afterAll(() => visit?.leave())

  const faults = () => visit.faults()
  const investments = () => page.locator('section[aria-labelledby="funded"] tbody tr').count()

  it('says what it may cost and sees what to fund for it, with the curve as a table', async () => {
    await page.getByRole('textbox', { name: /^Budget/ }).fill(String(BUDGET))
    await page.getByRole('button', { name: 'Find the best' }).click()
    await page.waitForURL(/budget=5000/)
    const cost = page.locator('.figure', { hasText: 'Likely investments' }).locator('.value')
    await expect.poll(async () => numberIn(await cost.textContent())).toBeLessThanOrEqual(BUDGET)
    expect(numberIn(await cost.textContent())).toBeGreaterThan(0)
    await expect.poll(investments).toBeGreaterThan(0)
    await page.locator('section[aria-labelledby="curve"] summary').click()
    await page
      .getByRole('columnheader', { name: /^Cost of a saved kWh/ })
      .last()
      .waitFor()
    expect(await faults()).toEqual([])
  }, 240_000)

  it('leaves a machine out by hand and takes it in again', async () => {
    const before = await investments()
    await page
      .getByRole('link', { name: /^leave out/ })
      .first()
      .click()
    await page.waitForURL(/without=/)
    await page.getByText('Left out by hand:').waitFor()
    await page.getByRole('link', { name: /^take in again/ }).click()
    await page.getByText('Left out by hand:').waitFor({ state: 'hidden' })
    await expect.poll(investments).toBe(before)
  }, 240_000)
})
