import { createReadStream } from 'node:fs'
import { Readable } from 'node:stream'
import { buffer } from 'node:stream/consumers'
import { eq, sql } from 'drizzle-orm'
import { beforeAll, expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import type { RunTask } from '@/app/_jobs/in-worker'
import { removeLog } from '@/app/_jobs/machine-months'
import { packTrace } from '@/app/_jobs/pack-log'
import { openPacked } from '@/app/_jobs/packed-chunk'
import { refreshLog, staleLogs } from '@/app/_jobs/refresh-machine'
import { storedFile, unpackerOf } from '@/app/_jobs/reread-log'
import { noRows } from '@/app/_jobs/row-buffer'
import { runTask } from '@/app/_jobs/run-task'
import { startStaging } from '@/app/_jobs/staging'
import type { SitedKey } from '@/app/_jobs/store-log'
import type { OnRows } from '@/app/_jobs/task'
import { logAnswer, logState } from '@/app/_server/log-answer'
import { readSamples } from '@/app/_server/read-samples'
import { machineView } from '@/app/_server/views/machine-view'
import { findAnalysis } from '@/db/queries/analyses'
import { deleteLog, endDeadReplays, failDeadImports, findLog, receiveLog } from '@/db/queries/logs'
import { listSampleChunks } from '@/db/queries/sample-chunks'
import { deleteStaged, deleteStagedOfFailed } from '@/db/queries/staged-rows'
import type { LogRow } from '@/db/schema/logs'
import { monthTotals } from '@/db/schema/month-totals'
import { type Analysed, analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'
import { rollUp } from '@/lib/months/rollup'
import { decodeChunk } from '@/lib/samples/codec'
import { inFull } from '@/lib/samples/samples'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { wholeAccount } from '../../invented/whole-account'
import { arrivedSample, arrivedText, sampleBytes, sampleMachine, samplePath } from '../sample-files'
import { NOTHING, rowsBelow } from './rows-below'

const NAME = 'shear-pump-flow'
const FILE = `${NAME}.csv`
const site = siteSchema.parse({})

let log: ReadLog
let analysed: Analysed
beforeAll(async () => {
  const machine = sampleMachine(NAME)
  log = await readLog(createReadStream(samplePath(FILE)), {
    fileName: FILE,
    machine,
    timeZone: site.timeZone,
  })
  analysed = analyse(log, machine, site)
})

onBothDatabases('importLog', (opened) => {
  it('stores what the command prints, every sample to the last bit, and the file byte for byte', async () => {
    const { db } = opened()
    const machineId = await newMachine(db, sampleMachine(NAME))
    const key = await newLog(db, machineId)
    expect(await importLog(db, key, arrivedSample(FILE))).toBe(true)

    const row = await findLog(db, key.logId)
    expect(row).toMatchObject({
      state: 'done',
      progress: 1,
      error: null,
      sampleCount: log.trace.timeS.length,
    })
    expect(row?.startedAt?.getTime()).toBe(log.trace.startedAtMs)
    expect(row?.rowsRead).toBe(log.report.rowsRead)

    const stored = await findAnalysis(db, key)
    expect(stored?.analysis).toEqual(JSON.parse(JSON.stringify(analysed.analysis)))

    const samplesOf = async (channel: string) =>
      (await listSampleChunks(db, key, channel)).flatMap(({ bytes }) => [...decodeChunk(openPacked(bytes))])
    expect(await samplesOf('time')).toEqual([...inFull(log.trace.timeS)])
    for (const { column, values } of log.trace.channels)
      expect(await samplesOf(column)).toEqual([...inFull(values)])
    const overRelief = await samplesOf('stream:overRelief')
    const furthest = wholeAccount(analysed.account).overRelief.map((watts, i) =>
      Math.abs(overRelief[i] - watts),
    )
    expect(Math.max(...furthest)).toBeLessThan(0.051)

    const original = (await storedFile(db, row ?? expect.fail('no row'))) ?? expect.fail('no file')
    const unpacker = unpackerOf(original.packing) ?? expect.fail('text is kept packed')
    expect(await buffer(Readable.from(original.pieces).pipe(unpacker))).toEqual(sampleBytes(FILE))

    const months = await db.select().from(monthTotals).where(eq(monthTotals.logId, key.logId))
    const wanted = rollUp(log, analysed, site)
    const sum = (rows: readonly { seconds: number; electricJ: number }[]) =>
      rows.reduce((total, one) => total + one.electricJ, 0)
    expect(months).toHaveLength(wanted.length)
    expect(sum(months)).toBeCloseTo(sum(wanted), 6)
  })

  it('stores nothing of an import that breaks at its last write, and all of it at the next try', async () => {
    const { db } = opened()
    const machineId = await newMachine(db, sampleMachine(NAME))
    const earlier = await newLog(db, machineId)
    await importLog(db, earlier, arrivedSample(FILE))
    const before = await rowsBelow(db, earlier)
    await db.execute(sql`create function break_it() returns trigger language plpgsql as
      $$ begin raise exception 'injected'; end $$`)
    await db.execute(sql`create trigger broken before insert on month_totals execute function break_it()`)
    const key = await newLog(db, machineId, 'second file')
    try {
      expect(await importLog(db, key, arrivedSample(FILE))).toBe(false)
    } finally {
      await db.execute(sql`drop trigger broken on month_totals`)
      await db.execute(sql`drop function break_it()`)
    }
    expect(await findLog(db, key.logId)).toMatchObject({
      state: 'failed',
      error: { code: 'internal', values: {} },
      channels: null,
      report: null,
    })
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
    expect(await rowsBelow(db, earlier)).toEqual(before)

    const file = { sha256: 'second file', fileName: FILE, byteLength: 1 }
    const again = await receiveLog(db, { id: 'unused', machineId, siteId: key.siteId, ...file })
    expect(again).toMatchObject({ isNew: true, row: { id: key.logId } })
    expect(await importLog(db, key, arrivedSample(FILE))).toBe(true)
    expect(await rowsBelow(db, key)).toEqual(before)
  })

  it('keeps of a file that cannot be understood only why', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    expect(await importLog(db, key, arrivedText('page.html', '<!doctype html><title>\0</title>'))).toBe(false)
    const row = await findLog(db, key.logId)
    expect(row).toMatchObject({ state: 'failed', error: { code: 'file-html' } })
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
  })

  it('stores nothing of an import that was undone while it ran', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const undoneMeanwhile: RunTask = async (task, ...how) => {
      await deleteLog(db, key)
      return runTask(task, ...how)
    }
    expect(await importLog(db, key, arrivedSample(FILE), undoneMeanwhile)).toBe(false)
    expect(await findLog(db, key.logId)).toBeNull()
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
  })

  it('leaves nothing of an import whose process died: what it wrote is no log and goes', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const staging = await startStaging(db, key)
    await staging.keepFiles([arrivedSample(FILE)])
    await packTrace(log.trace, staging.onRows)
    const row = (await findLog(db, key.logId)) ?? expect.fail('no row')
    expect(row.state).not.toBe('done')
    expect(await storedFile(db, row)).toBeNull()
    await failDeadImports(db, new Date(Date.now() + 60_000))
    await deleteStagedOfFailed(db)
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
  })

  it('makes no log of which a part was taken away meanwhile', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const takenAway: RunTask = (task, onProgress, onRows, onAccounted) =>
      runTask(task, onProgress, onRows, async (imported) => {
        await deleteStaged(db, key)
        await onAccounted?.(imported)
      })
    expect(await importLog(db, key, arrivedSample(FILE), takenAway)).toBe(false)
    expect((await findLog(db, key.logId))?.state).toBe('failed')
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
  })

  it('has the log stored and readable before its options are, which scripts are told once they are there', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const seen: unknown[] = []
    const lookBetween: RunTask = async (task, onProgress, onRows, onAccounted) =>
      runTask(task, onProgress, onRows, async (imported) => {
        await onAccounted?.(imported)
        const row = (await findLog(db, key.logId)) ?? expect.fail('no row')
        const { options: _, ...account } =
          (await findAnalysis(db, key))?.analysis ?? expect.fail('no analysis')
        seen.push(row.state, account.ledgerKWh, Object.keys(await logAnswer(db, row)))
        const samples = await readSamples(db, row, { channels: [], fromS: null, toS: null, points: 100 })
        seen.push(samples.samples)
        await expect(accountAt(row)).rejects.toMatchObject({ code: 'account-not-stored' })
        expect((await machineView(db, key.machineId, undefined))?.result?.options).toEqual([])
        expect(await storedFile(db, row)).not.toBeNull()
      })
    expect(await importLog(db, key, arrivedSample(FILE), lookBetween)).toBe(true)
    const done = (await findLog(db, key.logId)) ?? expect.fail('no row')
    expect(seen).toEqual([
      'replaying',
      JSON.parse(JSON.stringify(analysed.analysis.ledgerKWh)),
      Object.keys(logState(done)),
      log.trace.timeS.length,
    ])
    expect(await logAnswer(db, done)).toMatchObject({ state: 'done', options: analysed.analysis.options })
    expect((await accountAt(done)).channels[0].mean).not.toContain(null)
    expect(await staleLogs(db, key.machineId)).toEqual([])
  })

  it('keeps a log whose options fail, says why, and makes them with the next refresh', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const failing: RunTask = (task, onProgress, onRows, onAccounted) =>
      runTask(task, onProgress, onRows, async (imported) => {
        await onAccounted?.(imported)
        throw new Error('injected')
      })
    expect(await importLog(db, key, arrivedSample(FILE), failing)).toBe(true)
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'done', error: { code: 'internal' } })
    expect((await findAnalysis(db, key))?.analysis.options).toEqual([])
    await replayLater(key)
  })

  it('keeps a log whose account over time cannot be stored, and stores all of that with the next refresh', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const whole = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    await importLog(db, whole, arrivedSample(FILE))
    const failing: RunTask = (task, onProgress, onRows = noRows, onAccounted) => {
      let isAccounted = false
      const tripping: OnRows = async (rows) => {
        if (!isAccounted) return onRows(rows)
        await onRows({ samples: rows.samples.slice(1), envelope: [] })
        throw new Error('injected')
      }
      return runTask(task, onProgress, tripping, async (imported) => {
        await onAccounted?.(imported)
        isAccounted = true
      })
    }
    expect(await importLog(db, key, arrivedSample(FILE), failing)).toBe(true)
    const row = (await findLog(db, key.logId)) ?? expect.fail('no row')
    expect(row).toMatchObject({ state: 'done', error: { code: 'internal' } })
    await expect(accountAt(row)).rejects.toMatchObject({ code: 'account-not-stored' })
    await replayLater(key)
    expect(await rowsBelow(db, key)).toEqual(await rowsBelow(db, whole))
  })

  it('makes the options of a log whose process died between, and never loses the log', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    await new Promise<void>((resolve, reject) => {
      const dying: RunTask = (task, onProgress, onRows, onAccounted) =>
        runTask(task, onProgress, onRows, async (imported) => {
          await onAccounted?.(imported)
          resolve()
          await new Promise(() => {})
        })
      importLog(db, key, arrivedSample(FILE), dying).catch(reject)
    })
    const later = new Date(Date.now() + 60_000)
    expect(await failDeadImports(db, later)).toBe(0)
    await deleteStagedOfFailed(db)
    expect(await endDeadReplays(db, later)).toEqual([key.machineId])
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'done', error: null })
    await replayLater(key)
  })

  it('leaves nothing of a log that is undone while its options are replayed', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db, sampleMachine(NAME)))
    const undone: RunTask = (task, onProgress, onRows, onAccounted) =>
      runTask(task, onProgress, onRows, async (imported) => {
        await onAccounted?.(imported)
        await removeLog(db, key)
      })
    expect(await importLog(db, key, arrivedSample(FILE), undone)).toBe(false)
    expect(await findLog(db, key.logId)).toBeNull()
    expect(await rowsBelow(db, key)).toEqual(NOTHING)
  })

  /** A window of the account over time, the whole of it. */
  const accountAt = (row: LogRow) =>
    readSamples(opened().db, row, { channels: ['stream:electricIn'], fromS: null, toS: null, points: 100 })

  /** A stored log without options is stale, and one refresh makes of it what an import gives. */
  async function replayLater(key: SitedKey): Promise<void> {
    const { db } = opened()
    const stale = await staleLogs(db, key.machineId)
    expect(stale.map(({ row, needsReading }) => [row.id, needsReading])).toEqual([[key.logId, false]])
    expect(await refreshLog(db, stale[0])).toBe(true)
    expect((await findAnalysis(db, key))?.analysis).toEqual(JSON.parse(JSON.stringify(analysed.analysis)))
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'done', error: null })
    expect(await staleLogs(db, key.machineId)).toEqual([])
    expect((await accountAt(stale[0].row)).channels[0].mean).not.toContain(null)
  }
})
