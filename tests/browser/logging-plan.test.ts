import { readFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { findChromium, launch } from './chromium'
import { expectToFit, faults } from './faults'
import { open } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const MACHINE = 'sample-logs/press-all-sensors.machine.json'
const STEP_MS = 60_000
const chromium = findChromium()

describe.skipIf(!chromium)('a technician before the visit', () => {
  let app: RunningApp
  let browser: Browser
  let page: Page

  beforeAll(async () => {
    app = await startApp()
    const made = await fetch(`${app.address}/api/machines`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: readFileSync(MACHINE),
    })
    const { id } = (await made.json()) as { id: string }
    browser = await launch(chromium ?? '')
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
    page = await context.newPage()
    page.setDefaultTimeout(STEP_MS)
    await open(page, `${app.address}/machines/${id}`)
  }, STARTS_MS)

  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const figure = async (name: string) =>
    (await page.locator('.figure', { hasText: name }).locator('.value').textContent())?.trim()

  it('finds the plan from the machine’s page', async () => {
    await page.getByRole('link', { name: 'Logging plan', exact: true }).click()
    await page.getByRole('heading', { name: /: logging plan$/ }).waitFor()
    expect(await faults(page)).toEqual([])
    expect(await figure('Sampling rate')).toMatch(/^10\s+Hz$/)
  }, 120_000)

  it('asks for less certainty and fewer sensors, and is told what that means', async () => {
    const before = await figure('Running time to log')
    await page.getByLabel('Yearly waste known within').selectOption('20')
    await page.getByLabel('Load pressure').uncheck()
    await page.getByRole('button', { name: 'Work out the plan' }).click()
    await page.getByText('Cannot be judged with these sensors:').waitFor()
    await expect.poll(() => figure('Running time to log')).not.toBe(before)
    await expect.poll(() => page.url()).toContain('within=20')
  }, 120_000)

  it('opens a number to its formula', async () => {
    await page
      .getByText(/^0 to 400 bar/)
      .first()
      .click()
    await page
      .getByText(/^1\.5 × relief setting/)
      .first()
      .waitFor()
  })

  it.each([390, 820])(
    'needs no sideways scrolling at %i px',
    async (width) => {
      await page.setViewportSize({ width, height: 900 })
      await expectToFit(page)
      expect(await faults(page)).toEqual([])
    },
    120_000,
  )

  it('prints black on white, without the choices, on few pages', async () => {
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
    await page.getByRole('button', { name: 'Work out the plan' }).waitFor({ state: 'hidden' })
    const colours = () =>
      page.evaluate(() => {
        const sheet = document.querySelector('.plan-page .sheet:not(form)')
        return sheet && [getComputedStyle(document.body).backgroundColor, getComputedStyle(sheet).color]
      })
    await expect.poll(colours).toEqual(['rgb(255, 255, 255)', 'rgb(0, 0, 0)'])
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
    const pages = pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0
    expect(pages).toBeGreaterThan(2)
    expect(pages).toBeLessThan(9)
  }, 120_000)
})
