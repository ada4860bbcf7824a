import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { commandWorker } from '@/app/_command/command-worker'
import { importLog } from '@/app/_jobs/import-log'
import { startThread } from '@/app/_jobs/task-thread'
import { openDatabase } from '@/db/client'
import { findLog } from '@/db/queries/logs'
import { sampleMachine } from '../app/sample-files'
import { newLog, newMachine } from '../db/fixtures'
import { NAME } from './long-log'

// One import of a file as the server does it: a thread reads, analyses and packs while this one stores.

export interface ImportFigures {
  readonly database: string
  /** By the clock, from the file on the disk to the stored log. */
  readonly s: number
  readonly cpuS: number
  /** The operating system's figure for this process. */
  readonly peakKB: number
}

const US_PER_S = 1e6

const path = process.argv[2]
const folder = mkdtempSync(join(tmpdir(), 'tankward-import-'))
const opened = await openDatabase({ url: process.env.DATABASE_URL, folder: join(folder, 'data') })
const thread = startThread(commandWorker())
try {
  const key = await newLog(opened.db, await newMachine(opened.db, sampleMachine(NAME)))
  const file = { path, fileName: 'long.csv', diskBytes: statSync(path).size, isPacked: false }
  const before = process.cpuUsage()
  const started = performance.now()
  const isStored = await importLog(opened.db, key, { ...file, packing: 'brotli' }, thread.run)
  const s = (performance.now() - started) / 1000
  const { user, system } = process.cpuUsage(before)
  if (!isStored) throw new Error(JSON.stringify((await findLog(opened.db, key.logId))?.error))
  const cpuS = (user + system) / US_PER_S
  const figures: ImportFigures = { database: opened.kind, s, cpuS, peakKB: process.resourceUsage().maxRSS }
  console.log(JSON.stringify(figures))
} finally {
  await thread.stop()
  await opened.close()
  rmSync(folder, { recursive: true, force: true })
}
