import { AxeBuilder } from '@axe-core/playwright'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium, launch } from './chromium'
import { PLANT_MONTH, type Plant, startPlant } from './plant'

const STEP_MS = 60_000
const chromium = findChromium()

describe.skipIf(!chromium)('an energy manager at the end of a month', () => {
  let plant: Plant
  let browser: Browser
  let page: Page

  beforeAll(async () => {
    plant = await startPlant()
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
    page.setDefaultTimeout(STEP_MS)
    await page.goto(`${plant.app.address}/months/${PLANT_MONTH}`)
  }, 600_000)

  afterAll(async () => {
    await browser?.close()
    await plant?.app.stop()
  })

  const faults = async () => (await new AxeBuilder({ page }).analyze()).violations.map(({ id }) => id)
  const table = () => page.getByRole('region', { name: 'Waste by machine and kind' })

  it('opens a figure by keyboard to its formula, interval and logs, and is back where it was', async () => {
    const figure = table().locator('button.opens').first()
    await figure.focus()
    await page.keyboard.press('Enter')
    const dialog = page.getByRole('dialog', { name: /measured energy$/ })
    await dialog.waitFor()
    const text = await dialog.textContent()
    for (const part of ['Formula', '95 % interval', 'Source logs']) expect(text).toContain(part)
    expect(await dialog.getByRole('link').first().getAttribute('href')).toContain(plant.machines[0].logId)
    expect(await faults()).toEqual([])
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'hidden' })
    expect(await figure.evaluate((element) => element === document.activeElement)).toBe(true)
  }, 120_000)
})
