import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { commandWorker } from '@/app/_command/command-worker'
import { importLog } from '@/app/_jobs/import-log'
import type { RunTask } from '@/app/_jobs/in-worker'
import { startThread } from '@/app/_jobs/task-thread'
import { openDatabase } from '@/db/client'
import { findLog } from '@/db/queries/logs'
import { sampleMachine } from '../app/sample-files'
import { newLog, newMachine } from '../db/fixtures'
import { NAME } from './long-log'

// One import of a file as the server does it: a thread reads and analyses, one packs, and this one stores. With a second
// file that one is imported first in the same threads, which a server keeps from one job to the next.

export interface ImportFigures {
  readonly database: string
  /** By the clock, from the file on the disk to the stored log with its account, samples and original. */
  readonly storedS: number
  /** The same until its options are stored too. */
  readonly s: number
  readonly cpuS: number
  /** Of these the seconds of processors until the log was stored. */
  readonly cpuStoredS: number
  /** The operating system's figure for this process. */
  readonly peakKB: number
}

const US_PER_S = 1e6

const [path, warmPath] = process.argv.slice(2)
const folder = mkdtempSync(join(tmpdir(), 'tankward-import-'))
const opened = await openDatabase({ url: process.env.DATABASE_URL, folder: join(folder, 'data') })
const thread = startThread(true, commandWorker)
try {
  const machineId = await newMachine(opened.db, sampleMachine(NAME))
  const fileAt = (place: string) => ({
    path: place,
    fileName: 'long.csv',
    diskBytes: statSync(place).size,
    isPacked: false,
    packing: 'brotli' as const,
  })
  // The thread loads its code, which tsx translates anew for each and the server has built, before the clock runs.
  const one = join(folder, 'one.csv')
  writeFileSync(one, 'Time,P [bar]\n2026-03-01T00:00:00,1\n')
  await thread.run({ kind: 'survey', file: fileAt(one) })
  if (warmPath)
    await importLog(opened.db, await newLog(opened.db, machineId, 'warm'), fileAt(warmPath), thread.run)
  const key = await newLog(opened.db, machineId)
  let storedS = Number.NaN
  let cpuStoredS = Number.NaN
  const seconds = () => (performance.now() - started) / 1000
  const cpuSeconds = () => {
    const { user, system } = process.cpuUsage(before)
    return (user + system) / US_PER_S
  }
  const run: RunTask = (task, onProgress, onRows, onAccounted) =>
    thread.run(task, onProgress, onRows, async (imported) => {
      await onAccounted?.(imported)
      storedS = seconds()
      cpuStoredS = cpuSeconds()
    })
  const before = process.cpuUsage()
  const started = performance.now()
  const isStored = await importLog(opened.db, key, fileAt(path), run)
  const s = seconds()
  const cpuS = cpuSeconds()
  if (!isStored) throw new Error(JSON.stringify((await findLog(opened.db, key.logId))?.error))
  const peakKB = process.resourceUsage().maxRSS
  const figures: ImportFigures = { database: opened.kind, storedS, s, cpuS, cpuStoredS, peakKB }
  console.log(JSON.stringify(figures))
} finally {
  await thread.stop()
  await opened.close()
  rmSync(folder, { recursive: true, force: true })
}
