import { readFileSync } from 'node:fs'
import { setTimeout } from 'node:timers/promises'
import { type RunningApp, startApp } from './running-app'

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
export async function startPlant(): Promise<Plant> {
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
