import { createReadStream, mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { sampleBytes, sampleMachine } from '../app/sample-files'
import { startApp } from '../browser/running-app'
import { NAME, writeLong } from './long-log'

// npm run bench:responsive [-- ROWS [HZ]]: how soon the built app, on its embedded database, answers other requests
// while it takes in a large file: ten a second, through upload, reading, analysis and storing. The same is asked
// before, with nothing to do, so that what the machine itself makes of it is seen.

const ROWS = Number(process.argv[2] ?? 2_880_000)
const HZ = Number(process.argv[3] ?? 100)
const EVERY_MS = 100
const QUIET_MS = 10_000
const POLL_MS = 200

interface Answered {
  readonly path: string
  readonly ms: number
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

async function json(address: string, path: string, init?: RequestInit): Promise<Record<string, unknown>> {
  const response = await fetch(`${address}${path}`, init)
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`)
  return response.json()
}

/** Asks one path after the other, ten a second whether or not earlier ones were answered, until told to stop. */
function askAlways(address: string, paths: readonly string[]) {
  const answered: Answered[] = []
  const open = new Set<Promise<void>>()
  let next = 0
  const timer = setInterval(() => {
    const path = paths[next++ % paths.length]
    const began = performance.now()
    const one = fetch(`${address}${path}`)
      .then(async (response) => {
        await response.arrayBuffer()
        if (!response.ok) throw new Error(`${path}: ${response.status}`)
        answered.push({ path, ms: performance.now() - began })
      })
      .finally(() => open.delete(one))
    open.add(one)
  }, EVERY_MS)
  return async () => {
    clearInterval(timer)
    await Promise.all(open)
    return answered
  }
}

function tell(what: string, answered: readonly Answered[]): void {
  const sorted = (path?: string) =>
    answered
      .filter((one) => path === undefined || one.path === path)
      .map(({ ms }) => ms)
      .sort((a, b) => a - b)
  const row = (name: string, ms: readonly number[]) => {
    const at = (share: number) => Math.round(ms[Math.min(ms.length - 1, Math.floor(share * ms.length))])
    return { when: what, asked: name, answers: ms.length, p50: at(0.5), p95: at(0.95), longest: at(1) }
  }
  const paths = [...new Set(answered.map(({ path }) => path))]
  console.table([row('all', sorted()), ...paths.map((path) => row(path.slice(0, 20), sorted(path)))])
}

/** Waits until a log is stored; the states it went through, with the ms it was in each. */
async function untilDone(address: string, id: string): Promise<Record<string, number>> {
  const began = performance.now()
  const seen: Record<string, number> = {}
  for (;;) {
    const { state, error } = await json(address, `/api/logs/${id}`)
    seen[String(state)] ??= Math.round(performance.now() - began)
    if (state === 'failed') throw new Error(JSON.stringify(error))
    if (state === 'done') return seen
    await wait(POLL_MS)
  }
}

const folder = mkdtempSync(join(tmpdir(), 'tankward-responsive-'))
const app = await startApp()
const { address } = app
try {
  const path = join(folder, 'long.csv')
  await writeLong(path, ROWS, HZ)
  const body = JSON.stringify(sampleMachine(NAME))
  const headers = { 'Content-Type': 'application/json' }
  const machine = await json(address, '/api/machines', { method: 'POST', headers, body })
  const upload = `/api/logs?machine=${machine.id}&name=`
  const small = new Uint8Array(sampleBytes(`${NAME}.csv`))
  const first = await json(address, `${upload}short.csv`, { method: 'POST', body: small })
  await untilDone(address, String(first.id))
  const paths = ['/api/machines', `/api/logs/${first.id}`, '/months/2026-09', '/machines']
  for (const one of paths) await (await fetch(`${address}${one}`)).arrayBuffer()
  const endQuiet = askAlways(address, paths)
  await wait(QUIET_MS)
  tell('idle', await endQuiet())

  const end = askAlways(address, paths)
  const began = performance.now()
  const large = await json(address, `${upload}long.csv`, {
    method: 'POST',
    body: Readable.toWeb(createReadStream(path)) as ReadableStream,
    headers: { 'Content-Length': String(statSync(path).size) },
    duplex: 'half',
  } as RequestInit)
  const uploadMs = Math.round(performance.now() - began)
  const states = await untilDone(address, String(large.id))
  tell('import', await end())
  console.log(`${ROWS} rows: uploaded in ${uploadMs} ms, then first seen after ms`, states)
} finally {
  await app.stop()
  rmSync(folder, { recursive: true, force: true })
}
