import { beforeAll, expect, it } from 'vitest'
import { TIME_CHANNEL } from '@/app/_jobs/channel-names'
import { channelPacker } from '@/app/_jobs/pack-channel'
import { rowBuffer } from '@/app/_jobs/row-buffer'
import { startStaging } from '@/app/_jobs/staging'
import { readSamples } from '@/app/_server/read-samples'
import { MOST_POINTS } from '@/app/_server/samples-query'
import type { OpenDatabase } from '@/db/client'
import { finishLog } from '@/db/queries/logs'
import type { LogRow } from '@/db/schema/logs'
import { seededRandom } from '@/lib/numeric/random'
import { CHUNK_SAMPLES } from '@/lib/samples/codec'
import { cellSamples, levelCount } from '@/lib/samples/envelope'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'

// A log long enough for every level of the envelope that a log of 8 million samples has; what is drawn of it is held to
// its samples, looked through one by one.

const SAMPLES = 1_100_003
const HZ = 100
const LEVELS = 3
const NAME = 'Pump pressure'
const WINDOWS = 12
/** Buckets nearly as long as the cells of the next level are made of those. */
const MOST_OF_NEXT = 0.75
const MAX_MS = 120_000

/** Hundredths of a bar, with single peaks that only an exact envelope keeps, and stretches without a reading. */
const logged = Float64Array.from({ length: SAMPLES }, (_, i) => {
  if (i % 90_001 > 89_000) return Number.NaN
  const noise = Math.imul(i + 7, 0x9e3779b1) >>> 22
  const peak = i % 30_011 === 17 ? 5000 : 0
  return Math.round(9000 + 6000 * Math.sin(i / 4000) + noise + peak) / 100
})

async function store({ db }: OpenDatabase): Promise<LogRow> {
  const key = await newLog(db, await newMachine(db))
  const staging = await startStaging(db, key)
  const buffer = rowBuffer(staging.onRows)
  const timeS = Float64Array.from({ length: SAMPLES }, (_, i) => i / HZ)
  const pressurePa = logged.map((bar) => bar * 1e5)
  const time = channelPacker(buffer, TIME_CHANNEL, '1', timeS)
  const pressure = channelPacker(buffer, NAME, 'bar', timeS)
  for (let from = 0; from < SAMPLES; from += CHUNK_SAMPLES) {
    await time.add(timeS.subarray(from, from + CHUNK_SAMPLES))
    await pressure.add(pressurePa.subarray(from, from + CHUNK_SAMPLES))
  }
  await time.finish()
  await pressure.finish()
  await buffer.flush()
  const row = await finishLog(db, key, {
    startedAt: null,
    endedAt: null,
    durationS: SAMPLES / HZ,
    sampleIntervalS: 1 / HZ,
    sampleCount: SAMPLES,
    rowsRead: SAMPLES,
    rowsUsed: SAMPLES,
    rowsRejected: 0,
    channels: [
      {
        name: NAME,
        column: NAME,
        quantity: 'pressure',
        location: 'pump-outlet',
        unit: 'bar',
        accuracy: null,
      },
    ],
    report: null,
  })
  if (!row) throw new Error('the log is gone')
  return row
}

/** Least and greatest of the samples from one to another, both included; null where none holds a reading. */
function extremes(first: number, last: number): [number | null, number | null] {
  let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let i = first; i <= last; i++) {
    if (logged[i] < least) least = logged[i]
    if (logged[i] > greatest) greatest = logged[i]
  }
  return least > greatest ? [null, null] : [least, greatest]
}

onBothDatabases('windows of a long log', (opened) => {
  let row: LogRow
  beforeAll(async () => {
    row = await store(opened())
  }, MAX_MS)

  it.each([
    ['the samples', 0],
    ['level 1', 1],
    ['level 2', 2],
    ['level 3', LEVELS],
  ])(
    'are drawn with the extremes of their samples, bucket by bucket, from %s',
    async (_, level) => {
      expect(levelCount(SAMPLES)).toBe(LEVELS)
      const random = seededRandom(level + 1)
      // As many samples a bucket as the level has in a cell, up to nearly those of the next.
      const points = level === LEVELS ? 300 : MOST_POINTS
      const [least, most] = [
        cellSamples(level) * points,
        Math.min(SAMPLES, Math.floor(cellSamples(level + 1) * points * MOST_OF_NEXT)),
      ]
      for (let n = 0; n < WINDOWS; n++) {
        const length = n === 0 ? most : Math.floor(least + random() * (most - least))
        const from = Math.floor(random() * (SAMPLES - length + 1))
        const query = { channels: [NAME], fromS: from / HZ, toS: (from + length - 1) / HZ, points }
        const { buckets, bucketSamples, samples, channels } = await readSamples(opened().db, row, query)
        expect(samples).toBe(length)
        expect(bucketSamples % cellSamples(level)).toBe(0)
        expect(bucketSamples).toBeLessThan(cellSamples(level + 1) * 0.9)
        expect(buckets.startS.length).toBeLessThanOrEqual(points)
        let next = from
        let unlike = 0
        const real = buckets.startS.map((startS, bucket) => {
          const [first, last] = [Math.round(startS * HZ), Math.round(buckets.endS[bucket] * HZ)]
          // No sample between two buckets, none in both.
          if (first !== next) unlike++
          next = last + 1
          return extremes(first, last)
        })
        expect([unlike, next]).toEqual([0, from + length])
        expect(channels[0].min).toEqual(real.map(([low]) => low))
        expect(channels[0].max).toEqual(real.map(([, high]) => high))
      }
    },
    MAX_MS,
  )
})
