import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { commandWorker } from '@/app/_command/command-worker'
import { keepHouseOnce } from '@/app/_jobs/housekeeping'
import { importLog } from '@/app/_jobs/import-log'
import type { RunTask } from '@/app/_jobs/in-worker'
import { queueIdle, queueImport } from '@/app/_jobs/queue'
import { runTask } from '@/app/_jobs/run-task'
import { startThread } from '@/app/_jobs/task-thread'
import { errorOf, workerError } from '@/app/_jobs/worker-error'
import { openForWork } from '@/app/_server/database'
import { openDatabase } from '@/db/client'
import { findLog, type LogKey, setLogProgress } from '@/db/queries/logs'
import { onBothDatabases, onServer } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { postgresBinaries, startPostgres } from '../../db/postgres-server'
import { arrivedSample, sampleMachine } from '../sample-files'
import { NOTHING, rowsBelow } from './rows-below'

// What an import is made on breaks down while it goes on: its log says so, nothing of it is kept, what was there before is
// as it was, and the next attempt goes well.

const NAME = 'shear-pump-flow'
const FILE = `${NAME}.csv`

/** Reads and analyses; once something of the log is written, `happens`. */
const midWay = (happens: () => void | Promise<void>): RunTask => {
  let isOver = false
  return (task, onProgress, onRows) =>
    runTask(task, onProgress, async (rows) => {
      await onRows?.(rows)
      if (!isOver) await happens()
      isOver = true
    })
}

let folder: string
const before = { ...process.env }
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-outage-'))
  process.env.TANKWARD_DATA = folder
  process.env.TANKWARD_UPLOADS = folder
  delete process.env.DATABASE_URL
})
afterEach(() => {
  process.env = { ...before }
  rmSync(folder, { recursive: true, force: true })
})

onServer('a database that goes away mid-way', () => {
  it('is named with the log once it is back, and the next attempt goes well', async () => {
    const server = await startPostgres(postgresBinaries() ?? expect.fail('no PostgreSQL programs here'))
    const opened = await openDatabase({ url: `${server.url}/postgres`, folder: null })
    try {
      const { db } = opened
      const machineId = await newMachine(db, sampleMachine(NAME))
      const earlier = await newLog(db, machineId)
      expect(await importLog(db, earlier, arrivedSample(FILE))).toBe(true)
      const kept = await rowsBelow(db, earlier)
      const key = await newLog(db, machineId)
      const crash = midWay(() => {
        server.crash()
        setTimeout(() => server.restart(), 1500)
      })
      expect(await importLog(db, key, arrivedSample(FILE), crash)).toBe(false)
      expect(await findLog(db, key.logId)).toMatchObject({
        state: 'failed',
        error: { code: 'database-lost' },
      })
      expect(await rowsBelow(db, key)).toEqual(NOTHING)
      expect(await rowsBelow(db, earlier)).toEqual(kept)
      await db.execute(sql`update logs set state = 'received', error = null where id = ${key.logId}`)
      expect(await importLog(db, key, arrivedSample(FILE))).toBe(true)
      expect(await rowsBelow(db, key)).toEqual(kept)
    } finally {
      await opened.close()
      server.stop()
    }
  })
})

describe('an embedded database', () => {
  async function asBefore(earlier: LogKey, broken: LogKey & { siteId: string }): Promise<void> {
    const again = await openForWork()
    try {
      const { db } = again
      expect(await findLog(db, earlier.logId)).toMatchObject({ state: 'done', error: null })
      const kept = await rowsBelow(db, earlier)
      expect(Object.values(kept)).not.toContain(0)
      expect(await findLog(db, broken.logId)).toMatchObject({
        state: 'failed',
        error: { code: 'interrupted' },
      })
      expect(await rowsBelow(db, broken)).toEqual(NOTHING)
      await db.execute(sql`update logs set state = 'received', error = null where id = ${broken.logId}`)
      expect(await importLog(db, broken, arrivedSample(FILE))).toBe(true)
      expect(await rowsBelow(db, broken)).toEqual(kept)
    } finally {
      await again.close()
    }
  }

  it('that is closed mid-way: opened again, the log says so and the next attempt goes well', async () => {
    const opened = await openForWork()
    const machineId = await newMachine(opened.db, sampleMachine(NAME))
    const earlier = await newLog(opened.db, machineId)
    await importLog(opened.db, earlier, arrivedSample(FILE))
    const key = await newLog(opened.db, machineId)
    await new Promise<void>((resolve, reject) => {
      const close = midWay(() => opened.close().then(resolve, reject))
      // It goes on trying to write down why it failed; nobody hears it any more.
      importLog(opened.db, key, arrivedSample(FILE), close).catch(() => {})
    })
    await asBefore(earlier, key)
  }, 180_000)

  it('whose process is killed mid-way: opened again, the log says so and the next attempt goes well', async () => {
    const child = spawn(process.execPath, ['--import', 'tsx', 'tests/app/jobs/dying-import.ts'], {
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    const said = await new Promise<string>((resolve, reject) => {
      let errors = ''
      child.stdout.once('data', (text) => resolve(String(text)))
      child.stderr.on('data', (text) => {
        errors += text
      })
      child.once('exit', () => reject(new Error(errors)))
    })
    const gone = new Promise((resolve) => child.once('exit', resolve))
    child.kill('SIGKILL')
    await gone
    const { earlier, dying } = JSON.parse(said)
    await asBefore(earlier, dying)
  }, 180_000)
})

onBothDatabases('importLog', (opened) => {
  it('names a database’s full disk', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    await db.execute(sql`create function fill_it() returns trigger language plpgsql as
      $$ begin raise exception 'could not extend file' using errcode = 'disk_full'; end $$`)
    await db.execute(
      sql`create trigger full_disk before insert on envelope_chunks execute function fill_it()`,
    )
    try {
      expect(await importLog(db, key, arrivedSample(FILE))).toBe(false)
    } finally {
      await db.execute(sql`drop trigger full_disk on envelope_chunks`)
      await db.execute(sql`drop function fill_it()`)
    }
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'failed', error: { code: 'disk-full' } })
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
  })

  it.each<[string, () => { run: RunTask; stop(): Promise<void> }]>([
    [
      'is no room for an array in its thread',
      () => ({
        run: midWay(() => {
          throw errorOf(workerError(new RangeError('Array buffer allocation failed')))
        }),
        stop: async () => {},
      }),
    ],
    [
      'is a full heap of its thread',
      () => startThread(true, () => commandWorker({ maxOldGenerationSizeMb: 6 })),
    ],
  ])(
    'names a lack of memory where there %s, and the next attempt goes well',
    async (_, start) => {
      const { db } = opened()
      const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
      const { run, stop } = start()
      expect(await importLog(db, key, arrivedSample(FILE), run)).toBe(false)
      await stop()
      expect(await findLog(db, key.logId)).toMatchObject({
        state: 'failed',
        error: { code: 'out-of-memory' },
      })
      expect(await rowsBelow(db, key)).toEqual(NOTHING)
      expect(await importLog(db, await newLog(db, key.machineId), arrivedSample(FILE))).toBe(true)
    },
    180_000,
  )

  it('of a process that died on a shared database is marked while others run, one’s own are not', async () => {
    const { db } = opened()
    const machineId = await newMachine(db, sampleMachine(NAME))
    const dead = await newLog(db, machineId)
    await setLogProgress(db, dead, 'analysing', 0.5)
    const own = await newLog(db, machineId)
    const work = queueImport(db, own, arrivedSample(FILE))
    const young = await newLog(db, machineId)
    await db.execute(
      sql`update logs set updated_at = now() - interval '5 minutes' where id in (${dead.logId}, ${own.logId})`,
    )
    await keepHouseOnce(opened(), new Date())
    expect(await findLog(db, dead.logId)).toMatchObject({ state: 'failed', error: { code: 'interrupted' } })
    expect(await findLog(db, young.logId)).toMatchObject({ state: 'received', error: null })
    expect(await work).toBe(true)
    expect(await findLog(db, own.logId)).toMatchObject({ state: 'done', error: null })
    await queueIdle()
  })
})
