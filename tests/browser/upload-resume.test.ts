import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type BadLine, badLine } from './bad-line'
import { findChromium, launch } from './chromium'
import { faults } from './faults'
import { open } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const SAMPLE = 'sample-logs/broach-early-relief'
const STEP_MS = 90_000
const LARGE_BYTES = 3_400_000
const chromium = findChromium()

/** The sample's rows again and again, each with its own time: a recording as long as asked. */
function longRecording(): string {
  const [header, ...rows] = readFileSync(`${SAMPLE}.csv`, 'utf8').trimEnd().split('\n')
  const cells = rows.map((row) => row.slice(row.indexOf(',')))
  const start = Date.parse('2026-09-18T10:15:00Z')
  const lines = [header]
  for (let i = 0, length = 0; length < LARGE_BYTES; i++) {
    const at = new Date(start + i * 250).toISOString().slice(0, 23)
    lines.push(`${at}${cells[i % cells.length]}`)
    length += lines[lines.length - 1].length + 1
  }
  return `${lines.join('\n')}\n`
}

describe.skipIf(!chromium)('a large file on a bad connection', { timeout: 300_000 }, () => {
  let folder: string
  let file: string
  let app: RunningApp
  let line: BadLine
  let browser: Browser
  let page: Page
  let machine: string
  const before = process.env.TANKWARD_UPLOADS

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'tankward-resume-'))
    file = join(folder, 'night-shift.csv')
    writeFileSync(file, longRecording())
    process.env.TANKWARD_UPLOADS = folder
    app = await startApp()
    line = await badLine(app.address, 15)
    const body = readFileSync(`${SAMPLE}.machine.json`, 'utf8')
    const made = await fetch(`${app.address}/api/machines`, { method: 'POST', body })
    machine = ((await made.json()) as { id: string }).id
    browser = await launch(chromium ?? '')
    page = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage()
    page.setDefaultTimeout(STEP_MS)
  }, STARTS_MS)

  afterAll(async () => {
    await browser?.close()
    await line?.close()
    await app?.stop()
    if (before === undefined) delete process.env.TANKWARD_UPLOADS
    else process.env.TANKWARD_UPLOADS = before
    rmSync(folder, { recursive: true, force: true })
  })

  const status = () => page.locator('.file .status').textContent()
  const kept = () => readdirSync(join(folder, 'tankward-resumable'))
  const choose = async () => {
    await open(page, `${line.address}/upload?machine=${machine}`)
    await page.setInputFiles('input[type=file]', file)
  }

  it('waits for the connection, says how much is there, and goes on by itself', async () => {
    line.breakAfter(1_500_000)
    await choose()
    await page.getByText(/^Waiting for the connection, \d+\s% is there; goes on by itself$/).waitFor()
    // Pieces of 1 MiB: the first is there for sure.
    expect(Number(/(\d+)\s%/.exec((await status()) ?? '')?.[1])).toBe(
      Math.round((100 * 2 ** 20) / readFileSync(file).length),
    )
    expect(await faults(page)).toEqual([])
    line.mend()
    line.breakAfter(900_000)
    await page.getByText(/^Went on where it stopped: \d+\s% was there already\.$/).waitFor()
    await expect.poll(() => line.isBroken(), { timeout: STEP_MS }).toBe(true)
    await expect.poll(status, { timeout: STEP_MS }).toMatch(/^Waiting for the connection/)
    expect(kept()).toHaveLength(2)
  })

  it('goes on after the page was closed and the same file chosen again; hardly a byte is sent twice', async () => {
    line.mend()
    await page.close({ runBeforeUnload: false })
    page = await browser.contexts()[0].newPage()
    page.setDefaultTimeout(STEP_MS)
    await choose()
    await page.getByText(/^Went on where it stopped: \d+\s% was there already\.$/).waitFor()
    await page.locator('[data-stage=inspected]').waitFor()
    // What was on the line when it broke is sent again, the rest is not.
    const length = readFileSync(file).length
    expect(line.sent()).toBeGreaterThan(length)
    expect(line.sent()).toBeLessThan(1.3 * length)
    expect(kept()).toHaveLength(2)
  })

  it('imports it without sending it again, byte for byte, and leaves nothing behind', async () => {
    const before = line.sent()
    await page.getByRole('button', { name: 'Import', exact: true }).click()
    await page.locator('[data-stage=done]').waitFor()
    expect(line.sent() - before).toBeLessThan(200_000)
    const href = await page.getByRole('link', { name: 'See the result' }).getAttribute('href')
    const log = new URL(href ?? '', app.address).searchParams.get('log')
    const original = await (await fetch(`${app.address}/api/logs/${log}/file`)).arrayBuffer()
    expect(Buffer.from(original).equals(readFileSync(file))).toBe(true)
    await expect.poll(kept).toEqual([])
    await expect.poll(() => readdirSync(join(folder, 'tankward-uploads'))).toEqual([])
  })

  it('sends a small file again by itself after the line broke', async () => {
    await open(page, `${line.address}/upload?machine=${machine}`)
    line.breakAfter(60_000)
    await page.setInputFiles('input[type=file]', `${SAMPLE}.csv`)
    await page.getByText('Waiting for the connection; goes on by itself').waitFor()
    line.mend()
    await page.locator('[data-stage=inspected]').waitFor()
    expect(await faults(page)).toEqual([])
  })
})
