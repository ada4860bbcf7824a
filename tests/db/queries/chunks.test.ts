import { eq, getTableName } from 'drizzle-orm'
import { expect, it } from 'vitest'
import type { Database } from '@/db/client'
import { deleteEnvelopeChunks, insertEnvelopeChunks, listEnvelopeChunks } from '@/db/queries/envelope-chunks'
import { findFilePiece, insertFilePiece } from '@/db/queries/log-files'
import { deleteLog } from '@/db/queries/logs'
import {
  deleteSampleChunks,
  findChunksAt,
  insertSampleChunks,
  listSampleChunks,
} from '@/db/queries/sample-chunks'
import { countStaged, deleteStaged } from '@/db/queries/staged-rows'
import { envelopeChunks } from '@/db/schema/envelope-chunks'
import { logFiles } from '@/db/schema/log-files'
import { sampleChunks } from '@/db/schema/sample-chunks'
import { onBothDatabases } from '../databases'
import { newLog, newMachine } from '../fixtures'

const EVERY_BYTE = Uint8Array.from({ length: 256 }, (_, i) => i)

const chunk = (channel: string, seq: number) => ({
  channel,
  seq,
  firstSample: seq * 10,
  sampleCount: 10,
  startS: seq * 1.5,
  bytes: Uint8Array.of(seq % 256, ...EVERY_BYTE),
})

const fresh = async (db: Database) => newLog(db, await newMachine(db))

onBothDatabases('queries of chunks and files', (opened) => {
  it('give bytes back as they were, in buffers of their own', async () => {
    const { db } = opened()
    const key = await fresh(db)
    // A view into a larger buffer: only what it shows may be stored.
    await insertFilePiece(db, key, { part: 0, seq: 0, packing: 'gzip', bytes: EVERY_BYTE.subarray(10, 20) })
    const piece = await findFilePiece(db, key, 0, 0)
    expect(piece).toEqual({ part: 0, seq: 0, packing: 'gzip', bytes: EVERY_BYTE.slice(10, 20) })
    expect(piece?.bytes.byteOffset).toBe(0)
    expect(await findFilePiece(db, key, 0, 1)).toBeNull()
  })

  it('list a channel’s chunks in order, all or a stretch, more than fit one statement', async () => {
    const { db } = opened()
    const key = await fresh(db)
    const chunks = Array.from({ length: 1203 }, (_, seq) => chunk('P1 [bar]', 1202 - seq))
    await insertSampleChunks(db, key, [...chunks, chunk('Q1', 0)])
    const all = await listSampleChunks(db, key, 'P1 [bar]')
    expect(all.map(({ seq }) => seq)).toEqual(Array.from({ length: 1203 }, (_, seq) => seq))
    expect(all[700]).toEqual(chunk('P1 [bar]', 700))
    const some = await listSampleChunks(db, key, 'P1 [bar]', { fromSeq: 1200, toSeq: 2000 })
    expect(some.map(({ seq }) => seq)).toEqual([1200, 1201, 1202])
  })

  it('keep names as they are, and times to the last bit', async () => {
    const { db } = opened()
    const key = await fresh(db)
    for (const name of ['Druck, "P1" [bar]', "l'huile {é} \\ 油 🛢"]) {
      const one = { ...chunk(name, 0), startS: 0.1 + 0.2 }
      await insertSampleChunks(db, key, [one, { ...chunk(name, 1), bytes: new Uint8Array(0) }])
      const [first, empty] = await listSampleChunks(db, key, name)
      expect(first).toEqual(one)
      expect(empty.bytes).toHaveLength(0)
    }
  })

  it('are not caught up in what others roll back meanwhile, and write nothing where a row is refused', async () => {
    const { db } = opened()
    const key = await fresh(db)
    let written: Promise<void> = Promise.resolve()
    const undone = db.transaction(async (tx) => {
      await insertSampleChunks(tx, key, [chunk('undone', 0)])
      written = insertSampleChunks(db, key, [chunk('kept', 0)])
      await listSampleChunks(tx, key, 'undone')
      throw new Error('undone')
    })
    await expect(undone).rejects.toThrow('undone')
    await written
    expect(await listSampleChunks(db, key, 'undone')).toEqual([])
    expect(await listSampleChunks(db, key, 'kept')).toEqual([chunk('kept', 0)])
    await expect(insertSampleChunks(db, key, [chunk('kept', 1), chunk('kept', 0)])).rejects.toThrow()
    expect(await listSampleChunks(db, key, 'kept')).toEqual([chunk('kept', 0)])
    await insertSampleChunks(db, key, [chunk('kept', 1)])
    expect(await listSampleChunks(db, key, 'kept')).toHaveLength(2)
  })

  it('find the chunk that holds an instant', async () => {
    const { db } = opened()
    const key = await fresh(db)
    await insertSampleChunks(db, key, [chunk('time', 0), chunk('time', 1), chunk('time', 2)])
    const seqsAt = async (...timesS: number[]) =>
      (await findChunksAt(db, key, 'time', timesS)).map(({ seq }) => seq)
    expect(await seqsAt(-1)).toEqual([])
    expect(await seqsAt(1.49)).toEqual([0])
    expect(await seqsAt(1.5)).toEqual([1])
    expect(await seqsAt(1e9)).toEqual([2])
    expect(await seqsAt(1.49, 1e9)).toEqual([0, 2])
    expect(await seqsAt(1.5, 1.6)).toEqual([1])
  })

  it('find it however unevenly chunks begin', async () => {
    const { db } = opened()
    const key = await fresh(db)
    // As if long pauses lay at the beginning, in the middle and at the end.
    const starts = [0, 900, 901, 902, 903, 904, 905, 2000, 2001, 2002, 2003, 2004, 9000]
    await insertSampleChunks(
      db,
      key,
      starts.map((startS, seq) => ({ ...chunk('time', seq), startS })),
    )
    for (const timeS of starts.flatMap((startS) => [startS - 0.5, startS, startS + 0.5])) {
      const seqs = (await findChunksAt(db, key, 'time', [timeS])).map(({ seq }) => seq)
      expect(seqs).toEqual(timeS < 0 ? [] : [starts.findLastIndex((startS) => startS <= timeS)])
    }
  })

  it('of an import that failed are deleted a few at a time, with turns for others, and never another log’s', async () => {
    const { db } = opened()
    const [key, other] = [await fresh(db), await fresh(db)]
    const many = Array.from({ length: 250 }, (_, seq) => chunk('time', seq))
    for (const one of [key, other]) await insertSampleChunks(db, one, many)
    let turns = 0
    const turn = () => {
      turns++
      next = setImmediate(turn)
    }
    let next = setImmediate(turn)
    await deleteStaged(db, key)
    clearImmediate(next)
    expect(turns).toBeGreaterThanOrEqual(3)
    expect(await countStaged(db, key)).toEqual({ pieces: 0, samples: 0, envelope: 0 })
    expect(await countStaged(db, other)).toEqual({ pieces: 0, samples: 250, envelope: 0 })
  })

  it('list stretches of several levels of an envelope', async () => {
    const { db } = opened()
    const key = await fresh(db)
    const cell = (level: number, seq: number) => ({
      channel: 'P',
      level,
      seq,
      bytes: Uint8Array.of(level, seq),
    })
    await insertEnvelopeChunks(db, key, [cell(2, 0), cell(1, 2), cell(1, 1), cell(1, 0), cell(3, 0)])
    const ranges = [
      { level: 1, fromSeq: 1, toSeq: 5 },
      { level: 3, fromSeq: 0, toSeq: 0 },
    ]
    expect(await listEnvelopeChunks(db, key, ['P'], ranges)).toEqual([cell(1, 1), cell(1, 2), cell(3, 0)])
    expect(await listEnvelopeChunks(db, key, ['P'], [])).toEqual([])
  })

  it('delete the named channels, or all, and never another log’s', async () => {
    const { db } = opened()
    const [key, other] = [await fresh(db), await fresh(db)]
    const env = (channel: string) => ({ channel, level: 1, seq: 0, bytes: EVERY_BYTE })
    for (const one of [key, other]) {
      await insertSampleChunks(db, one, [chunk('a', 0), chunk('b', 0), chunk('c', 0)])
      await insertEnvelopeChunks(db, one, [env('a'), env('b')])
    }
    await deleteSampleChunks(db, key, ['a', 'b'])
    await deleteEnvelopeChunks(db, key, ['a'])
    expect(await listSampleChunks(db, key, 'a')).toEqual([])
    expect(await listSampleChunks(db, key, 'c')).toHaveLength(1)
    const level1 = [{ level: 1, fromSeq: 0, toSeq: 0 }]
    expect(await listEnvelopeChunks(db, key, ['b'], level1)).toHaveLength(1)
    await deleteSampleChunks(db, key)
    await deleteEnvelopeChunks(db, key)
    expect(await listSampleChunks(db, key, 'c')).toEqual([])
    expect(await listEnvelopeChunks(db, key, ['b'], level1)).toEqual([])
    expect(await listSampleChunks(db, other, 'a')).toHaveLength(1)
    expect(await listEnvelopeChunks(db, other, ['a'], level1)).toHaveLength(1)
  })

  it('leave nothing of a deleted log', async () => {
    const { db } = opened()
    const key = await fresh(db)
    await insertSampleChunks(db, key, [chunk('a', 0)])
    await insertEnvelopeChunks(db, key, [{ channel: 'a', level: 1, seq: 0, bytes: EVERY_BYTE }])
    await insertFilePiece(db, key, { part: 0, seq: 0, packing: 'none', bytes: EVERY_BYTE })
    await deleteLog(db, key)
    for (const table of [sampleChunks, envelopeChunks, logFiles])
      expect(await db.$count(table, eq(table.logId, key.logId)), getTableName(table)).toBe(0)
  })
})
