import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { options as OPTION_WORDS } from '@/app/_words/en/options'
import type { Result } from '@/lib/contract/result'
import { findChromium, launch } from './chromium'
import { expectToFit, faults } from './faults'
import { open, reload } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const SAMPLE = 'sample-logs/press-all-sensors'
const STEP_MS = 60_000
const chromium = findChromium()

describe.skipIf(!chromium)('a technician with a browser', { timeout: 240_000 }, () => {
  let app: RunningApp
  let browser: Browser
  let context: BrowserContext
  let page: Page

  beforeAll(async () => {
    app = await startApp()
    browser = await launch(chromium ?? '')
    context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
    page = await context.newPage()
    page.setDefaultTimeout(STEP_MS)
  }, STARTS_MS)

  afterAll(async () => {
    await browser?.close()
    await app?.stop()
  })

  const seriousFaults = () => faults(page, ['.chart'])

  it('is told what to do first while nothing is there', async () => {
    await open(page, app.address)
    await page.getByRole('heading', { name: 'Nothing logged yet' }).waitFor()
    expect(await seriousFaults()).toEqual([])
    await page.getByRole('link', { name: 'Set up a machine' }).click()
    await page.getByRole('heading', { name: 'New machine' }).waitFor()
  })

  it('is shown beside the entry what is missing, and nothing is saved', async () => {
    await page.getByRole('button', { name: 'Create the machine' }).click()
    await page.getByText('Enter a name.').waitFor()
    expect(await page.getByLabel('Displacement').getAttribute('aria-invalid')).toBe('true')
    const { machines } = (await (await fetch(`${app.address}/api/machines`)).json()) as {
      machines: unknown[]
    }
    expect(machines).toEqual([])
  })

  it('creates a machine from its JSON', async () => {
    await page.getByText('As JSON: import, paste, download').click()
    await page.getByLabel(/settings in this form/).fill(readFileSync(`${SAMPLE}.machine.json`, 'utf8'))
    await page.getByRole('button', { name: 'Take over into the form' }).click()
    await page.getByText('Taken over into the form; not saved yet.').waitFor()
    await page.getByRole('button', { name: 'Create the machine' }).click()
    await page.waitForURL('**/upload?machine=*')
  })

  it('sees what was understood of a file before anything is stored', async () => {
    await page.setInputFiles('input[type=file]', `${SAMPLE}.csv`)
    await page.locator('[data-stage=inspected]').waitFor()
    const understood = () => page.locator('[data-stage=inspected]').textContent()
    await expect.poll(understood).toContain('3,600 read')
    await expect.poll(understood).toContain('relief return')
    const machine = new URL(page.url()).searchParams.get('machine')
    const answer = await fetch(`${app.address}/machines/${machine}`)
    expect(await answer.text()).toContain('No log yet')
    expect(await seriousFaults()).toEqual([])
  })

  it('imports it and reads the ranked options, the same as the API gives', async () => {
    await page.getByRole('button', { name: 'Import', exact: true }).click()
    await page.locator('[data-stage=done]').waitFor()
    await page.getByRole('link', { name: 'See the result' }).click()
    await page.waitForURL('**/machines/*?log=*')
    const list = page.getByRole('list', { name: 'Options, best first' })
    await list.waitFor()
    const id = new URL(page.url()).searchParams.get('log')
    const result = (await (await fetch(`${app.address}/api/logs/${id}`)).json()) as Result
    const shown = await list.locator('> li').evaluateAll((items) => items.map((item) => item.dataset.option))
    const fits = result.options.filter((option) => option.feasible && option.judged)
    expect(shown).toEqual(fits.map((option) => option.id))
    // The others are folded away, and none is left out.
    expect(await page.locator('#options-title, li[data-option]').count()).toBe(1 + result.options.length)
    const next = await page.locator('.next').textContent()
    expect(next).toContain(OPTION_WORDS[result.options[0].id].title)
    expect(result.options[0].feasible).toBe(true)

    const best = list.locator('> li').first()
    await best.locator('summary').first().click()
    const told = [OPTION_WORDS[result.options[0].id].title, 'Saved in a year', 'Cautions']
    for (const part of [...told, ...result.options[0].cautions.map(({ message }) => message)])
      await expect.poll(() => best.textContent()).toContain(part)
    await page.getByText('Local codes, the machine’s manual and a qualified person decide').first().waitFor()
  })

  it('can read every chart as text and table, and reaches single samples', async () => {
    await page.locator('.chart canvas').first().waitFor()
    const traces = page.locator('section:has(#traces)')
    await traces.getByText('As a table').click()
    await expect.poll(() => traces.locator('tbody tr').count()).toBeGreaterThan(50)
    for (let step = 0; step < 6; step += 1) {
      await Promise.all([
        page.waitForResponse((response) => response.url().includes('/samples?') && response.ok()),
        traces.getByRole('button', { name: 'Zoom in' }).click(),
      ])
    }
    // 15 min halved six times is 14 s: single samples at 4 Hz.
    await expect.poll(() => traces.locator('tbody tr').count()).toBeLessThan(70)
    await expect
      .poll(() => traces.locator('tbody th').allInnerTexts())
      .toContainEqual(expect.stringMatching(/\.25$/))
    await traces.getByText('As a table').click()
    expect(await seriousFaults()).toEqual([])
  })

  it('opens a figure by keyboard to its formula and the parts of its interval, and closes it again', async () => {
    const figure = page.locator('.figure', { hasText: 'Electric input' }).first()
    const summary = figure.locator('summary')
    await summary.press('Enter')
    await figure.locator('.formula').waitFor()
    expect(await figure.locator('.formula').textContent()).toBe('E = Σ P_e · Δt')
    const parts = figure.getByRole('group', { name: 'Parts of the interval' })
    await parts.waitFor()
    const shares = await parts.locator('tbody tr td:nth-child(3)').allInnerTexts()
    const sum = shares.map((text) => Number.parseFloat(text)).reduce((total, share) => total + share, 0)
    expect(Math.abs(sum - 100)).toBeLessThan(3)
    await expect.poll(() => figure.textContent()).toContain('What would narrow it most:')
    expect(await seriousFaults()).toEqual([])
    await page.keyboard.press('Escape')
    await expect.poll(() => figure.evaluate((element) => (element as HTMLDetailsElement).open)).toBe(false)
    await expect.poll(() => summary.evaluate((element) => element === document.activeElement)).toBe(true)
  })

  it('moves a setting and sees what it saves, by slider and by keyboard, and goes back to the best', async () => {
    const vent = page.locator('li[data-option=vent-relief-at-idle]')
    const details = vent.locator('details').first()
    if (!(await details.evaluate((element) => (element as HTMLDetailsElement).open)))
      await vent.locator('summary').first().click()
    const entry = vent.getByLabel('Vent pressure', { exact: true })
    // The server takes the log up when the option is opened.
    await entry.waitFor()
    const status = vent.getByRole('status')
    const shares = async () => {
      const cells = vent
        .getByRole('group', { name: 'Found best and as set' })
        .locator('tr', { hasText: 'Input' })
      return (await cells.locator('td').allInnerTexts()).map(Number.parseFloat)
    }
    await entry.fill('60')
    await expect
      .poll(() => status.textContent())
      .toMatch(/of the input is saved, [\d.]+ points less than found best/)
    await expect.poll(shares).toHaveLength(2)
    const [found, at60] = await shares()
    expect(at60).toBeLessThan(found - 1)
    const slider = vent.getByLabel('Vent pressure, slider')
    await slider.press('ArrowRight')
    await expect.poll(async () => Number(await entry.inputValue())).toBeGreaterThan(60)
    await expect.poll(async () => (await shares())[1]).toBeLessThan(at60)
    await entry.fill('5000')
    await vent.getByText(/^From 0 to \d+ bar\.$/).waitFor()
    expect(await entry.getAttribute('aria-invalid')).toBe('true')
    expect(await seriousFaults()).toEqual([])
    await vent.getByRole('button', { name: 'Back to the best found' }).click()
    await expect.poll(() => entry.inputValue()).toBe('5')
    await vent.getByRole('group', { name: 'Found best and as set' }).waitFor({ state: 'detached' })
  })

  it('confirms the highest load in the set-up, and the option says who did', async () => {
    const back = page.url()
    const vent = page.locator('li[data-option=vent-relief-at-idle]')
    await vent.getByRole('link', { name: 'in the machine’s set-up' }).click()
    await page.waitForURL('**/setup#confirmed')
    await page.getByLabel('Highest load').fill('170')
    await page.getByLabel('Clamps').check()
    await page.getByRole('button', { name: 'Save' }).click()
    await page.locator('#confirmed').getByText('Enter who confirmed it.').waitFor()
    expect(await seriousFaults()).toEqual([])
    await page.getByLabel('Confirmed by').fill('A. Fitter')
    await page.getByLabel('Confirmed on').fill('2026-03-31')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByText('Saved.').waitFor()
    await open(page, back)
    await vent.locator('summary').first().click()
    await vent.getByText('Confirmed by A. Fitter').waitFor()
    await expect.poll(() => vent.textContent()).toContain('31 Mar 2026')
    await expect
      .poll(() => vent.textContent(), { timeout: STEP_MS })
      .toContain('Clamps hang on this pressure')
    await vent.getByText('Clamps hang on this pressure').waitFor()
  })

  it('corrects a phase, sees it marked after a reload, and undoes it', async () => {
    const phases = page.locator('section:has(#phases)')
    const table = phases.getByRole('group', { name: 'Phases of this log' })
    const idle = table.locator('tbody tr', { hasText: 'Idle, loaded' }).first()
    const before = await page.locator('section:has(#account)').textContent()
    await idle.getByRole('button', { name: /^Correct/ }).press('Enter')
    const form = phases.getByRole('form', { name: 'Correct a stretch' })
    await form.getByLabel('What it is').selectOption({ label: 'Work, holding' })
    await form.getByLabel('Why').fill('a clamp held the part')
    await form.getByRole('button', { name: 'Correct and analyse again' }).click()
    const mark = table.locator('tr', { hasText: 'Work, holding' }).getByText('corrected', { exact: true })
    await mark.waitFor()
    await reload(page)
    await mark.waitFor()
    const list = phases.getByRole('group', { name: 'Corrections of this log' })
    await expect.poll(() => list.textContent()).toContain('a clamp held the part')
    await expect.poll(() => list.textContent()).toMatch(/Idle, loaded [\d.]+ s/)
    await expect.poll(() => page.locator('section:has(#account)').textContent()).not.toBe(before)
    expect(await seriousFaults()).toEqual([])
    await list.getByRole('button', { name: /^Undo/ }).click()
    await mark.waitFor({ state: 'detached' })
    await expect.poll(() => page.locator('section:has(#account)').textContent()).toBe(before)
    await reload(page)
    await phases.waitFor()
    await list.waitFor({ state: 'detached' })
  })

  it('overrules a level from the machine’s page, sees it used, and has it found again once emptied', async () => {
    const levels = page.locator('section:has(#levels)')
    const opens = levels.locator('tr', { hasText: 'Relief opens from' })
    const found = await opens.textContent()
    expect(found).toMatch(/\d bar.*found in this log/)
    const back = page.url()
    await levels.getByRole('link', { name: 'correct it in the set-up' }).click()
    await page.waitForURL('**/setup?log=*')
    const entry = page.getByLabel('Relief opens from')
    await page
      .getByText(/^Found in the latest log: [\d.]+ bar\.$/)
      .first()
      .waitFor()
    await entry.fill('high')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.locator('#levels').getByText('Enter a number.').waitFor()
    expect(await seriousFaults()).toEqual([])
    await entry.fill('190')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('link', { name: 'see the effect' }).click()
    await opens.getByText('entered by a person').waitFor()
    expect(await opens.textContent()).toContain('190 bar')
    await levels.getByRole('link', { name: 'correct it in the set-up' }).click()
    await entry.fill('')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('link', { name: 'see the effect' }).click()
    await page.waitForURL('**/machines/*?log=*')
    await expect.poll(() => opens.textContent(), { timeout: STEP_MS }).toBe(found)
    await open(page, back)
  })

  it('is told when the same recording comes again, and it is stored once', async () => {
    const machine = /machines\/([^/?]+)/.exec(page.url())?.[1]
    await open(page, `${app.address}/upload?machine=${machine}`)
    await page.setInputFiles('input[type=file]', `${SAMPLE}.csv`)
    await page.getByText('This recording is already stored for this machine').waitFor()
    await page.getByRole('button', { name: 'Import', exact: true }).click()
    await page.locator('[data-stage=duplicate]').waitFor()
    const stored = page.locator('section:has(#stored)')
    await expect.poll(() => stored.locator('tbody tr').count()).toBe(1)
  })

  it('is told in words when a file is no log', async () => {
    await page.setInputFiles('input[type=file]', 'package-lock.json')
    const refused = page.locator('[data-stage=refused]')
    await refused.waitFor()
    expect((await refused.getByRole('alert').textContent())?.length).toBeGreaterThan(20)
  })

  it('finds its machine in the month and the comparison, on a phone too', async () => {
    await page.setViewportSize({ width: 390, height: 844 })
    const month = readFileSync(`${SAMPLE}.csv`, 'utf8').split('\n')[1].slice(0, 'YYYY-MM'.length)
    for (const path of [`/months/${month}`, '/machines', '/upload', '/site', '/machines/new']) {
      await open(page, app.address + path)
      await page.locator('main h1').waitFor()
      await expectToFit(page)
      expect(await seriousFaults(), path).toEqual([])
    }
    await open(page, `${app.address}/machines?q=press`)
    await page.getByRole('link', { name: 'Deep-drawing press 4' }).waitFor()
    await expect.poll(() => page.title()).toBe('Machines · Tankward')
  })

  it('narrows the month, and figures, bars and table follow', async () => {
    const month = readFileSync(`${SAMPLE}.csv`, 'utf8').split('\n')[1].slice(0, 'YYYY-MM'.length)
    await open(page, `${app.address}/months/${month}`)
    const waste = page.locator('.figure', { hasText: 'Waste, measured' }).locator('.value')
    const all = await waste.textContent()
    const filters = page.getByRole('region', { name: 'What is shown' })
    await filters.getByLabel('Kind of waste').selectOption('Metering')
    await expect.poll(() => waste.textContent()).not.toBe(all)
    await expect.poll(() => page.locator('section:has(#table) tbody tr').count()).toBe(1)
    await expect.poll(() => new URL(page.url()).searchParams.get('kind')).toBe('Metering')
    await filters.getByLabel('Search').fill('no such machine')
    await page.getByText('Figures, bars and tables show 0 of 1 machines.').waitFor()
    expect(await seriousFaults()).toEqual([])
  })
})
