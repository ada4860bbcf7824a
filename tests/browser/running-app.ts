import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { lock } from 'proper-lockfile'

const NEXT = 'node_modules/next/dist/bin/next'
const BUILD_MARK = '.next/BUILD_ID'
const START_MS = 120_000
/** How long the build and the first answer may take on a busy machine. */
export const STARTS_MS = 600_000

function newestIn(folder: string): number {
  return Math.max(
    0,
    ...readdirSync(folder, { withFileTypes: true, recursive: true })
      .filter((entry) => entry.isFile())
      .map((entry) => statSync(join(entry.parentPath, entry.name)).mtimeMs),
  )
}

function isBuilt(): boolean {
  const mark = statSync(BUILD_MARK, { throwIfNoEntry: false })
  const sources = ['app', 'lib', 'db'].map(newestIn)
  return mark !== undefined && mark.mtimeMs > Math.max(...sources, statSync('next.config.js').mtimeMs)
}

/** Long enough for a build on a busy machine. */
const PATIENT = { retries: { retries: 600, minTimeout: 1000, maxTimeout: 1000 } }

async function build(): Promise<void> {
  const env = { ...process.env, NODE_ENV: 'production' as const, NEXT_TELEMETRY_DISABLED: '1' }
  const child = spawn(process.execPath, [NEXT, 'build'], { env })
  let output = ''
  child.stdout.on('data', (text) => {
    output += text
  })
  child.stderr.on('data', (text) => {
    output += text
  })
  const [status] = await once(child, 'close')
  if (status !== 0) throw new Error(`next build failed:\n${output}`)
}

/** Builds the app unless the last build is newer than every source; of several test files that ask at once one builds. */
async function ensureBuilt(): Promise<void> {
  const release = await lock('next.config.js', {
    lockfilePath: join('node_modules', '.build.lock'),
    ...PATIENT,
  })
  try {
    if (!isBuilt()) await build()
  } finally {
    await release()
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => (address && typeof address === 'object' ? resolve(address.port) : reject(address)))
    })
  })
}

export interface RunningApp {
  readonly address: string
  stop(): Promise<void>
}

async function answers(address: string, child: ChildProcess, output: () => string): Promise<void> {
  const until = Date.now() + START_MS
  while (Date.now() < until) {
    if (child.exitCode !== null) throw new Error(`the app stopped:\n${output()}`)
    const response = await fetch(`${address}/api/machines`).catch(() => null)
    if (response?.ok) return
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  throw new Error(`the app did not answer within ${START_MS} ms:\n${output()}`)
}

/** The built app on a free port with an empty data folder of its own. */
export async function startApp(): Promise<RunningApp> {
  await ensureBuilt()
  const folder = mkdtempSync(join(tmpdir(), 'tankward-browser-'))
  const port = await freePort()
  const env = {
    ...process.env,
    NODE_ENV: 'production' as const,
    TANKWARD_DATA: folder,
    DATABASE_URL: '',
    TANKWARD_TOKEN: '',
    NEXT_TELEMETRY_DISABLED: '1',
  }
  const child = spawn(process.execPath, [NEXT, 'start', '-H', '127.0.0.1', '-p', String(port)], { env })
  let output = ''
  child.stdout.on('data', (text) => {
    output += text
  })
  child.stderr.on('data', (text) => {
    output += text
  })
  const address = `http://127.0.0.1:${port}`
  const stop = async () => {
    const gone = new Promise((resolve) => child.once('exit', resolve))
    if (child.exitCode === null && child.kill()) await gone
    rmSync(folder, { recursive: true, force: true })
  }
  try {
    await answers(address, child, () => output)
  } catch (error) {
    await stop()
    throw error
  }
  return { address, stop }
}
