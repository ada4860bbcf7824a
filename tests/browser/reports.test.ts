import { AxeBuilder } from '@axe-core/playwright'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium, launch } from './chromium'
import { PLANT_MONTH, type Plant, startPlant } from './plant'

const STEP_MS = 120_000
const A4_WIDTH_PX = 794
const chromium = findChromium()

describe.skipIf(!chromium)('an auditor who was not there', () => {
  let plant: Plant
  let browser: Browser
  let page: Page

  beforeAll(async () => {
    plant = await startPlant()
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
    page.setDefaultTimeout(STEP_MS)
  }, 600_000)

  afterAll(async () => {
    await browser?.close()
    await plant?.app.stop()
  })

  const faults = async () => (await new AxeBuilder({ page }).analyze()).violations.map(({ id }) => id)

  it('has a month’s report made, and gets its spreadsheet', async () => {
    await page.goto(`${plant.app.address}/reports`)
    await page.getByLabel('Of').selectOption(`month ${PLANT_MONTH}`)
    await page.getByRole('button', { name: /^Make / }).click()
    await page.getByText('It is being made and stands below.').waitFor()
    const link = page.getByRole('link', { name: 'XLSX', exact: true })
    await link.waitFor()
    const file = await fetch(`${plant.app.address}${await link.getAttribute('href')}`)
    expect(file.headers.get('content-type')).toContain('spreadsheetml')
    expect((await file.arrayBuffer()).byteLength).toBeGreaterThan(1000)
    expect(await faults()).toEqual([])
  }, 300_000)

  it('reads the page made for print: all on the paper, method and cautions with it, no buttons', async () => {
    await page.goto(`${plant.app.address}/reports/month/${PLANT_MONTH}`)
    await page.getByRole('heading', { name: 'Method' }).waitFor()
    expect(await faults()).toEqual([])
    await page.setViewportSize({ width: A4_WIDTH_PX, height: 1123 })
    await page.emulateMedia({ media: 'print' })
    const over = await page.evaluate(
      () =>
        [...document.querySelectorAll('table')].filter(
          (table) => table.getBoundingClientRect().right > window.innerWidth,
        ).length,
    )
    expect(over).toBe(0)
    expect(await page.getByRole('link', { name: 'All tables, XLSX' }).isVisible()).toBe(false)
    expect(await page.getByRole('heading', { name: 'Before anything is changed' }).isVisible()).toBe(true)
  }, 240_000)
})
