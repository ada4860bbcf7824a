import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Site } from '@/lib/contract/site'
import { findChromium, launch } from './chromium'
import { expectToFit, faults } from './faults'
import { open } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const STEP_MS = 60_000
const chromium = findChromium()

describe.skipIf(!chromium)('an energy manager who enters tariffs and shifts', () => {
  let app: RunningApp
  let browser: Browser
  let page: Page

  beforeAll(async () => {
    app = await startApp()
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
    page.setDefaultTimeout(STEP_MS)
    await open(page, `${app.address}/site`)
  }, STARTS_MS)

  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const group = (name: string) => page.getByRole('group', { name, exact: true })
  const saved = async () => (await (await fetch(`${app.address}/api/site`)).json()) as Site

  it('is shown beside the entry what is wrong, and asked before it is left unsaved', async () => {
    await page.getByRole('button', { name: 'Add a holiday' }).click()
    // The keyboard is in the new row.
    const entry = () => page.evaluate(() => document.activeElement?.tagName)
    await expect.poll(entry).toBe('INPUT')
    await page.keyboard.type('Easter')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('Enter the day, as in 2026-12-24').waitFor()
    await expect.poll(() => page.locator(':focus').getAttribute('aria-invalid')).toBe('true')
    expect((await saved()).holidays).toBeUndefined()
    const asked = page.waitForEvent('dialog').then((dialog) => dialog.dismiss())
    await page.getByRole('link', { name: 'Machines', exact: true }).click()
    await asked
    expect(page.url()).toMatch(/\/site$/)
  }, 120_000)

  it('saves a type of day, a price with dates and a calendar with a shutdown, without any JSON', async () => {
    const holiday = page.getByRole('region', { name: 'Holiday 1' })
    await holiday.getByLabel('Date').fill('2026-05-15')
    await holiday.getByLabel('Counts as').selectOption({ label: 'a type of its own' })
    await holiday.getByLabel('Type of day').fill('bridge day')
    await page.getByRole('button', { name: 'Add a dated price' }).click()
    const price = page.getByRole('region', { name: 'Dated price 1' })
    await price.getByLabel('First day').fill('2027-01-01')
    await price.getByLabel('Energy price').fill('0,17')
    await page.getByRole('button', { name: 'Add a calendar' }).click()
    const calendar = page.getByRole('region', { name: 'Calendar 1' })
    await calendar.getByLabel('Name').fill('One shift')
    await calendar.getByLabel('bridge day').uncheck()
    await calendar.getByRole('button', { name: 'Add an exception' }).click()
    const shutdown = calendar.getByRole('region', { name: 'Exception 1' })
    await shutdown.getByLabel('First day').fill('2026-08-03')
    await shutdown.getByLabel('Last day').fill('2026-08-14')
    await calendar.getByText(/planned hours by this calendar/).waitFor()
    await group('Who changes it').getByLabel('Your name').fill('Ada')
    expect(await faults(page)).toEqual([])
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText('Saved. All figures are being brought up to date with it.').waitFor()
    expect(await saved()).toMatchObject({
      holidays: [{ date: '2026-05-15', countsAs: 'bridge day' }],
      tariffs: [{ from: '2027-01-01', energyPricePerKWh: 0.17 }],
      calendars: [
        { name: 'One shift', exceptions: [{ from: '2026-08-03', until: '2026-08-14', shifts: [] }] },
      ],
    })
    // The history says who and what.
    const latest = page.getByRole('region', { name: 'What was changed' }).locator('tbody tr').first()
    await latest.getByText('Shift calendars: none → One shift').waitFor()
    await expect.poll(() => latest.textContent()).toContain('Ada')
  }, 240_000)

  it.each([390, 820])('needs no sideways scrolling at %i px', async (width) => {
    await page.setViewportSize({ width, height: 900 })
    await expectToFit(page)
  })
})
