import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { findChromium, launch } from './chromium'
import { faultsAt } from './faults'
import { open } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const SAMPLE = 'sample-logs/broach-early-relief'
const [HEADER, ...ROWS] = readFileSync(`${SAMPLE}.csv`, 'utf8').trimEnd().split('\n')
const STEP_MS = 60_000
const PHONE = { width: 390, height: 844 }
const DESK = { width: 1280, height: 900 }
const chromium = findChromium()

/** The sample on a day that reads two ways. */
const onDay = (day: string) =>
  [HEADER, ...ROWS.slice(0, 1200).map((row) => row.replace('2026-09-18T', `${day} `))].join('\n')

describe.skipIf(!chromium)('a technician with a stored log', { timeout: 240_000 }, () => {
  let app: RunningApp
  let browser: Browser
  let page: Page
  let folder: string
  let machine: string
  let log: string

  const postJson = (path: string, body: unknown) =>
    fetch(`${app.address}${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })

  beforeAll(async () => {
    app = await startApp()
    folder = mkdtempSync(join(tmpdir(), 'tankward-stored-'))
    const { channels: _, ...config } = JSON.parse(readFileSync(`${SAMPLE}.machine.json`, 'utf8')) as Machine
    machine = ((await (await postJson('/api/machines', config)).json()) as { id: string }).id
    const posted = await fetch(`${app.address}/api/logs?machine=${machine}&name=script.csv`, {
      method: 'POST',
      body: onDay('03/04/2026'),
    })
    log = ((await posted.json()) as { id: string }).id
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: DESK })).newPage()
    page.setDefaultTimeout(STEP_MS)
  }, STARTS_MS)

  afterAll(async () => {
    await browser?.close()
    await app?.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  const stored = async () =>
    (await (await fetch(`${app.address}/api/logs/${log}`)).json()) as {
      state: string
      computedAt?: string
      log?: { startedAt: string; problems: { code: string }[] }
    }
  const faults = () =>
    faultsAt(page, [
      { ...PHONE, colorScheme: 'light' },
      { ...DESK, colorScheme: 'dark' },
    ])

  it('sees that a script’s dates were taken day first, and has them read month first', async () => {
    await expect.poll(async () => (await stored()).state, { timeout: STEP_MS }).toBe('done')
    expect((await stored()).log?.startedAt).toMatch(/^2026-04-03T/)
    await open(page, `${app.address}/machines/${machine}/logs/${log}`)
    const again = page.getByRole('region', { name: 'Read again' })
    await again.getByRole('button', { name: 'See what can be answered otherwise' }).click()
    await again.getByText(/Which day is 03\/04\/2026/).waitFor()
    expect(await faults()).toEqual([])
    const send = again.getByRole('button', { name: 'Read again with these answers' })
    await expect.poll(() => send.isDisabled()).toBe(true)
    await again.getByLabel('4 Mar 2026: the month stands first').check()
    await send.click()
    await again.getByText('the figures are those of the new reading').waitFor()
    const after = await stored()
    expect(after.log?.startedAt).toMatch(/^2026-03-04T/)
    expect(after.log?.problems.map(({ code }) => code)).not.toContain('assumed-day-order')
    await expect.poll(() => page.locator('main').textContent()).toContain('dates have the month first')
  })

  it('takes the answer back, and the file is read as it was', async () => {
    const again = page.getByRole('region', { name: 'Read again' })
    await again.getByRole('button', { name: 'See what can be answered otherwise' }).click()
    await again.getByRole('button', { name: 'Read as the file and the set-up say' }).click()
    await again.getByText('the figures are those of the new reading').waitFor()
    expect((await stored()).log?.startedAt).toMatch(/^2026-04-03T/)
  })

  it('hands in the evidence of a sensor, which stands beside the report with name and time', async () => {
    const { computedAt } = await stored()
    const columns = page.getByRole('region', { name: 'Columns' })
    await columns.getByText('Add evidence of a sensor').click()
    const add = columns.getByRole('button', { name: 'Add', exact: true })
    await columns.getByLabel('Serial number').fill('PT-4711')
    await columns.getByLabel('Certified on').fill('2026-01-15')
    await expect.poll(() => add.isDisabled()).toBe(true)
    await columns.getByLabel('Said by').fill('A. Auditor')
    expect(await faults()).toEqual([])
    await add.click()
    await columns
      .getByText(/handed in on .* by A\. Auditor: serial number PT-4711, certified on 2026-01-15/)
      .waitFor()
    await expect
      .poll(() => columns.textContent())
      .toContain('no evidence of the sensor was entered before the import')
    expect((await stored()).computedAt).toBe(computedAt)
  })

  it('imports the next file of a known logger with two taps', async () => {
    await page.setViewportSize(PHONE)
    const reading = { dayOrder: 'month-first' }
    const first = onDay('03/05/2026')
    writeFileSync(join(folder, 'known.csv'), first)
    await open(page, `${app.address}/upload?machine=${machine}`)
    await page.setInputFiles('.drop input[type=file]', join(folder, 'known.csv'))
    const known = page.getByRole('region', { name: 'known.csv', exact: true })
    await known.getByLabel('5 Mar 2026: the month stands first').check()
    await known.getByRole('button', { name: 'Import', exact: true }).click()
    await expect.poll(() => known.getAttribute('data-stage'), { timeout: STEP_MS }).toBe('done')

    writeFileSync(join(folder, 'next.csv'), onDay('03/06/2026'))
    await open(page, `${app.address}/upload?machine=${machine}`)
    // What a hand does on the page from here on is counted by the page.
    await page.evaluate(() => {
      const counted = window as unknown as { taps: number }
      counted.taps = 0
      document.addEventListener('pointerdown', () => {
        counted.taps += 1
      })
    })
    const began = Date.now()
    const chooser = page.waitForEvent('filechooser')
    await page.getByText('Choose files', { exact: true }).click()
    await (await chooser).setFiles(join(folder, 'next.csv'))
    const next = page.getByRole('region', { name: 'next.csv', exact: true })
    await next.getByText(/Understood as on/).waitFor()
    await next.getByRole('button', { name: 'Import', exact: true }).click()
    await expect.poll(() => next.getAttribute('data-stage'), { timeout: STEP_MS }).toBe('done')
    expect(await page.evaluate(() => (window as unknown as { taps: number }).taps)).toBe(2)
    expect(Date.now() - began).toBeLessThan(STEP_MS)
    const href = await next.getByRole('link', { name: 'See the result' }).getAttribute('href')
    const id = new URL(href ?? '', app.address).searchParams.get('log')
    const made = (await (await fetch(`${app.address}/api/logs/${id}`)).json()) as {
      log: { startedAt: string }
      reading: { reading: object }
    }
    expect(made.log.startedAt).toMatch(/^2026-03-06T/)
    expect(made.reading.reading).toMatchObject(reading)
  })
})
