import { readFileSync } from 'node:fs'
import { setTimeout } from 'node:timers/promises'
import type { Page } from 'playwright-core'
import { findChromium, launch } from './chromium'
import { faults } from './faults'
import { open } from './open'
import { type RunningApp, STARTS_MS, startApp } from './running-app'

const SAMPLES = [
  ['baler-line-flow', 'Line A'],
  ['press-all-sensors', 'Line B'],
] as const
/** The month that both logs were recorded in. */
export const PLANT_MONTH = '2026-09'
const PATIENCE_MS = 120_000

export interface Plant {
  readonly app: RunningApp
  readonly machines: readonly { readonly id: string; readonly name: string; readonly logId: string }[]
}

async function json<Answer>(response: Response): Promise<Answer> {
  if (!response.ok) throw new Error(`${response.url}: ${response.status} ${await response.text()}`)
  return (await response.json()) as Answer
}

/** Waits until a log is stored with its options. */
async function stored(app: RunningApp, logId: string): Promise<void> {
  const until = Date.now() + PATIENCE_MS
  while (Date.now() < until) {
    const log = await json<{ state: string }>(await fetch(`${app.address}/api/logs/${logId}`))
    if (log.state === 'done') return
    if (log.state === 'failed') throw new Error(`${logId}: ${JSON.stringify(log)}`)
    await setTimeout(250)
  }
  throw new Error(`${logId} was not stored within ${PATIENCE_MS} ms`)
}

/** The built app with a works of two machines, each with a log of one month. */
async function startPlant(): Promise<Plant> {
  const app = await startApp()
  const machines: Plant['machines'][number][] = []
  for (const [sample, line] of SAMPLES) {
    const machine = await json<{ id: string; name: string }>(
      await fetch(`${app.address}/api/machines?line=${encodeURIComponent(line)}`, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: readFileSync(`sample-logs/${sample}.machine.json`),
      }),
    )
    const log = await json<{ id: string }>(
      await fetch(`${app.address}/api/logs?machine=${machine.id}`, {
        method: 'POST',
        body: readFileSync(`sample-logs/${sample}.csv`),
      }),
    )
    await stored(app, log.id)
    machines.push({ ...machine, logId: log.id })
  }
  return { app, machines }
}

/** How long a step on a page may take on a busy machine, and the build and the logs before the first. */
const STEP_MS = 60_000
export const PLANT_MS = STARTS_MS + 2 * PATIENCE_MS

export interface Visit {
  readonly plant: Plant
  readonly page: Page
  /** Rules of accessibility that the page breaks and goes on breaking. */
  faults(): Promise<string[]>
  leave(): Promise<void>
}

/** A person before a wide screen of the works of two machines. */
export async function visitPlant(path = '/machines', stepMs = STEP_MS): Promise<Visit> {
  const plant = await startPlant()
  const browser = await launch(findChromium() ?? '')
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
  page.setDefaultTimeout(stepMs)
  await open(page, `${plant.app.address}${path}`)
  return {
    plant,
    page,
    faults: () => faults(page),
    leave: async () => {
      await browser.close()
      await plant.app.stop()
    },
  }
}
