import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium } from './chromium'
import { open } from './open'
import { PLANT_MONTH, PLANT_MS, type Plant, type Visit, visitPlant } from './plant'

const STEP_MS = 120_000
const A4_WIDTH_PX = 794
const chromium = findChromium()

describe.skipIf(!chromium)('an auditor who was not there', () => {
  let visit: Visit
  let plant: Plant
  let page: Page

  beforeAll(async () => {
    visit = await visitPlant('/machines', STEP_MS)
    plant = visit.plant
    page = visit.page
  }, PLANT_MS)

  afterAll(() => visit?.leave())

  const faults = () => visit.faults()

  it('has a month’s report made, and gets its spreadsheet', async () => {
    await open(page, `${plant.app.address}/reports`)
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
    await open(page, `${plant.app.address}/reports/month/${PLANT_MONTH}`)
    await page.getByRole('heading', { name: 'Method' }).waitFor()
    expect(await faults()).toEqual([])
    await page.setViewportSize({ width: A4_WIDTH_PX, height: 1123 })
    await page.emulateMedia({ media: 'print' })
    const over = () =>
      page.evaluate(
        () =>
          [...document.querySelectorAll('table')].filter(
            (table) => table.getBoundingClientRect().right > window.innerWidth,
          ).length,
      )
    await expect.poll(over).toBe(0)
    await page.getByRole('link', { name: 'All tables, XLSX' }).waitFor({ state: 'hidden' })
    await page.getByRole('heading', { name: 'Before anything is changed' }).waitFor()
  }, 240_000)
})
