import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium, launch } from './chromium'
import { type Plant, startPlant } from './plant'

const STEP_MS = 60_000
const chromium = findChromium()

describe.skipIf(!chromium)('a plant manager with a budget', () => {
  let plant: Plant
  let browser: Browser
  let page: Page

  beforeAll(async () => {
    plant = await startPlant()
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
    page.setDefaultTimeout(STEP_MS)
    await page.goto(`${plant.app.address}/funding`)
  }, 600_000)

  afterAll(async () => {
    await browser?.close()
    await plant?.app.stop()
  })

  const funded = () => page.locator('section[aria-labelledby="funded"] tbody tr').count()

  it('leaves a machine out by hand and takes it in again', async () => {
    const before = await funded()
    await page
      .getByRole('link', { name: /^leave out/ })
      .first()
      .click()
    await page.waitForURL(/without=/)
    await page.getByText('Left out by hand:').waitFor()
    await page.getByRole('link', { name: /^take in again/ }).click()
    await page.getByText('Left out by hand:').waitFor({ state: 'hidden' })
    expect(await funded()).toBe(before)
  }, 240_000)
})
