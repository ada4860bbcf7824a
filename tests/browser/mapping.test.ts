import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { findChromium, launch } from './chromium'
import { faultsAt } from './faults'
import { open as openPage } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const SAMPLE = 'sample-logs/broach-early-relief'
const [HEADER, ...ROWS] = readFileSync(`${SAMPLE}.csv`, 'utf8').trimEnd().split('\n')
const STEP_MS = 60_000
const PHONE = { width: 390, height: 844 }
const DESK = { width: 1280, height: 900 }
const chromium = findChromium()

/** The sample's rows from one on, on another day, written with day or month first. */
const onDay = (day: string, from = 0, count = 1200) =>
  [HEADER, ...ROWS.slice(from, from + count).map((row) => row.replace('2026-09-18T', `${day} `))].join('\n')

describe.skipIf(!chromium)('a technician with files that leave something open', { timeout: 240_000 }, () => {
  let app: RunningApp
  let browser: Browser
  let page: Page
  let folder: string
  let machine: string

  beforeAll(async () => {
    app = await startApp()
    folder = mkdtempSync(join(tmpdir(), 'tankward-mapping-'))
    const { channels: _, ...config } = JSON.parse(readFileSync(`${SAMPLE}.machine.json`, 'utf8')) as Machine
    const answer = await fetch(`${app.address}/api/machines`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(config),
    })
    machine = ((await answer.json()) as { id: string }).id
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: PHONE })).newPage()
    page.setDefaultTimeout(STEP_MS)
  }, STARTS_MS)

  afterAll(async () => {
    await browser?.close()
    await app?.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  const choose = async (...files: readonly (readonly [name: string, text: string])[]) => {
    for (const [name, text] of files) writeFileSync(join(folder, name), text)
    const before = await page.locator('.file[data-stage]').count()
    await page.setInputFiles(
      '.drop input[type=file]',
      files.map(([name]) => join(folder, name)),
    )
    await expect.poll(() => page.locator('.file[data-stage]').count()).toBe(before + files.length)
    await expect
      .poll(() => page.locator('.file:is([data-stage=waiting],[data-stage=inspecting])').count(), {
        timeout: STEP_MS,
      })
      .toBe(0)
  }
  const card = (name: string) => page.getByRole('region', { name, exact: true })
  const open = (path: string) => openPage(page, `${app.address}${path}`)
  const logOf = async (name: string) => {
    const href = await card(name).getByRole('link', { name: 'See the result' }).getAttribute('href')
    const id = new URL(href ?? '', app.address).searchParams.get('log')
    return (await (await fetch(`${app.address}/api/logs/${id}`)).json()) as {
      id: string
      log: { startedAt: string }
      reading: { reading: object; remembered: { by: string } | null } | null
    }
  }
  const stage = (name: string) => card(name).getAttribute('data-stage')
  const isImported = (name: string) => expect.poll(() => stage(name), { timeout: STEP_MS }).toBe('done')
  /** Faults on a phone, a tablet and a desk. */
  const faults = async () => {
    const found = await faultsAt(page, [
      { ...PHONE, colorScheme: 'light' },
      { width: 820, height: DESK.height, colorScheme: 'dark' },
      { ...DESK, colorScheme: 'light' },
    ])
    await page.setViewportSize(PHONE)
    await page.emulateMedia({ colorScheme: 'light' })
    return found
  }

  it('is asked which day a date is, and is brought to the question by Import', async () => {
    await open(`/upload?machine=${machine}`)
    await choose(['monday.csv', onDay('03/04/2026')])
    const monday = card('monday.csv')
    await monday.getByText('Which day is 03/04/2026').waitFor()
    expect(await monday.getByRole('radio', { checked: true }).count()).toBe(0)
    expect(await faults()).toEqual([])
    await monday.getByRole('button', { name: 'Import', exact: true }).click()
    await monday.getByText('Choose one: nothing is guessed.').waitFor()
    const first = monday.getByRole('radio').first()
    await expect.poll(() => first.evaluate((one) => one === document.activeElement)).toBe(true)
    expect(await stage('monday.csv')).toBe('inspected')
    expect(await faults()).toEqual([])
  })

  it('answers, gives a name, and the file is read as was said', async () => {
    const monday = card('monday.csv')
    await monday.getByLabel('4 Mar 2026: the month stands first').check()
    await monday.getByLabel('Your name').fill('A. Fitter')
    await monday.getByRole('button', { name: 'Import', exact: true }).click()
    await isImported('monday.csv')
    const log = await logOf('monday.csv')
    expect(log.log.startedAt).toMatch(/^2026-03-04T/)
    expect(log.reading).toMatchObject({
      reading: { dayOrder: 'month-first' },
      remembered: { by: 'A. Fitter' },
    })
  })

  it('takes two taps for the next file of that logger: choose, import', async () => {
    await open(`/upload?machine=${machine}`)
    await choose(['tuesday.csv', onDay('03/05/2026')])
    const tuesday = card('tuesday.csv')
    await tuesday.getByText(/Understood as on .* by A\. Fitter/).waitFor()
    expect(await tuesday.locator('.question').count()).toBe(0)
    expect(await faults()).toEqual([])
    await tuesday.getByRole('button', { name: 'Import', exact: true }).click()
    await isImported('tuesday.csv')
    const log = await logOf('tuesday.csv')
    expect(log.log.startedAt).toMatch(/^2026-03-05T/)
    expect(log.reading?.remembered?.by).toBe('A. Fitter')
  })

  it('reads in the import report how it was read, and gets the original back byte for byte', async () => {
    await card('tuesday.csv').getByRole('link', { name: 'Import report' }).click()
    await page.getByRole('heading', { name: 'Import report' }).waitFor()
    for (const said of ['said by A. Fitter', 'dates have the month first', '1,200'])
      await expect.poll(() => page.locator('main').textContent()).toContain(said)
    const href = await page.getByRole('link', { name: 'Download the original file' }).getAttribute('href')
    const original = await (await fetch(app.address + href)).text()
    expect(original).toBe(onDay('03/05/2026'))
    expect(await faults()).toEqual([])
  })

  it('finds what is remembered in the set-up, forgets it after a question, and is asked again', async () => {
    await open(`/machines/${machine}/setup`)
    const list = page.getByRole('group', { name: 'Remembered layouts' })
    await expect.poll(() => list.textContent()).toContain('dates have the month first')
    expect(await faults()).toEqual([])
    await list.getByRole('button', { name: /^Forget/ }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Forget' }).click()
    await page.getByText('None yet.').waitFor()
    await open(`/upload?machine=${machine}`)
    await choose(['wednesday.csv', onDay('03/06/2026')])
    await card('wednesday.csv').getByText('Which day is 03/06/2026').waitFor()
  })

  it('says what unknown columns hold, and the account is made of them', async () => {
    await open(`/upload?machine=${machine}`)
    await choose(['unknown.csv', ['Time,K1,K2,K3,K4,K5', ...ROWS.slice(0, 1200)].join('\n')])
    const unknown = card('unknown.csv')
    await unknown.getByText('What do the columns hold?').waitFor()
    expect(await faults()).toEqual([])
    await unknown.getByLabel('What “K1” is').selectOption('pressure pump-outlet')
    await unknown.getByLabel('What “K3” is').selectOption('flow pump-outlet')
    await unknown.getByLabel('What “K5” is').selectOption('power motor-supply')
    await unknown.getByRole('button', { name: 'Read again with these answers' }).click()
    await unknown.getByRole('button', { name: 'Import', exact: true }).click()
    await isImported('unknown.csv')
    const { id } = await logOf('unknown.csv')
    const done = (await (await fetch(`${app.address}/api/logs/${id}`)).json()) as {
      log: { channels: { column: string; location: string }[] }
    }
    expect(done.log.channels.map(({ column, location }) => [column, location])).toEqual([
      ['K1', 'pump-outlet'],
      ['K3', 'pump-outlet'],
      ['K5', 'motor-supply'],
    ])
  })

  it('gives a start to a recording that only counts, and says what a number means', async () => {
    await open(`/upload?machine=${machine}`)
    const rows = ROWS.slice(0, 1200).map((row, i) => {
      const [, pump, , flow, , power] = row.split(',').map(Number)
      const watts = Math.max(0, Math.round(power * 1000))
      const grouped =
        watts < 1000 ? watts : `${Math.floor(watts / 1000)}.${String(watts % 1000).padStart(3, '0')}`
      return [i, Math.round(pump), Math.round(flow), grouped].join(';')
    })
    await choose([
      'counts.csv',
      ['Elapsed [s];Pump pressure [bar];Pump flow [L/min];Motor power [W]', ...rows].join('\n'),
    ])
    const counts = card('counts.csv')
    await counts.getByLabel(/: the point groups thousands/).check()
    await counts.getByLabel('First row, on the logger’s clock').fill('2026-05-12T06:00')
    expect(await faults()).toEqual([])
    await counts.getByRole('button', { name: 'Import', exact: true }).click()
    await isImported('counts.csv')
    const { log, reading } = await logOf('counts.csv')
    expect(reading?.reading).toMatchObject({ decimalMark: ',', startedAt: '2026-05-12T06:00' })
    expect(log.startedAt).toMatch(/^2026-05-12T/)
  })

  it('answers once for twelve files, leaves the page while they are imported, and comes back to them', async () => {
    await page.setViewportSize(DESK)
    await open(`/upload?machine=${machine}`)
    const names = Array.from({ length: 12 }, (_, i) => `shift-${String(i + 1).padStart(2, '0')}.csv`)
    await choose(
      ...names.map(
        (name, i) => [name, onDay(`${String(i + 1).padStart(2, '0')}/08/2026`, i * 100, 600)] as const,
      ),
    )
    const status = page.locator('main').getByRole('status')
    await expect.poll(() => status.textContent()).toContain('12 files')
    // The eighth of August is one day whichever way it is read.
    await expect.poll(() => page.getByText(/^Which day is/).count()).toBe(1)
    expect(await faults()).toEqual([])
    await page.getByLabel(/the day stands first/).check()
    await expect.poll(() => status.textContent()).toContain('12 ready to import')
    await page.setViewportSize(DESK)
    await page.getByRole('button', { name: 'Import all 12' }).click()
    await page.getByRole('link', { name: 'Machines', exact: true }).click()
    await page.getByRole('heading', { name: 'Machines', level: 1 }).waitFor()
    await page.goBack()
    await expect.poll(() => page.locator('.file[data-stage=done]').count(), { timeout: 480_000 }).toBe(12)
    expect(await faults()).toEqual([])
    const { log } = await logOf('shift-01.csv')
    expect(log.startedAt).toMatch(/^2026-08-01T/)
  }, 600_000)

  it('undoes an import, and replaces one by a longer file of the same time', async () => {
    const last = card('shift-12.csv')
    await last.getByRole('button', { name: 'Undo the import' }).click()
    await expect.poll(() => stage('shift-12.csv')).toBe('undone')
    const { id } = await logOf('shift-01.csv')
    await choose(['whole-shift-01.csv', onDay('01/08/2026', 0, 900)])
    const whole = card('whole-shift-01.csv')
    await whole.getByText('It shares time with shift-01.csv').waitFor()
    await whole.getByLabel(/^Replace shift-01\.csv/).check()
    await whole.getByRole('button', { name: 'Import', exact: true }).click()
    await isImported('whole-shift-01.csv')
    expect((await fetch(`${app.address}/api/logs/${id}`)).status).toBe(404)
    expect((await logOf('whole-shift-01.csv')).log.startedAt).toMatch(/^2026-08-01T/)
  })

  it('is told what a file is that is no log, and the others are not held up', async () => {
    await open(`/upload?machine=${machine}`)
    await choose(['page.csv', '<!doctype html><title>no log</title>'], ['clear.csv', onDay('13/09/2026')])
    expect(await stage('page.csv')).toBe('refused')
    expect(await card('page.csv').getByRole('alert').textContent()).toContain('web page')
    expect(await stage('clear.csv')).toBe('inspected')
    expect(await faults()).toEqual([])
  })
})
