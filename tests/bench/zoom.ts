import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { TIME_CHANNEL } from '@/app/_jobs/channel-names'
import { channelPacker } from '@/app/_jobs/pack-channel'
import { rowBuffer } from '@/app/_jobs/row-buffer'
import { startStaging } from '@/app/_jobs/staging'
import { readSamples } from '@/app/_server/read-samples'
import { MOST_POINTS } from '@/app/_server/samples-query'
import { type OpenDatabase, openDatabase } from '@/db/client'
import { finishLog } from '@/db/queries/logs'
import type { LogRow, StoredChannel } from '@/db/schema/logs'
import { seededRandom } from '@/lib/numeric/random'
import { CHUNK_SAMPLES } from '@/lib/samples/codec'
import { toSi } from '@/lib/units'
import { emptyServerDatabase } from '../db/databases'
import { newLog, newMachine } from '../db/fixtures'

// npm run bench:zoom [-- ROWS [WINDOWS]]: how long windows of a long log take, from its whole length to 1,000 samples,
// on the embedded database and on a PostgreSQL server of its own; extremes are held to the samples themselves. On a
// machine that others use too the processors' time says more than the clock.

const ROWS = Number(process.argv[2] ?? 30_000_000)
const WINDOWS = Number(process.argv[3] ?? 150)
const HZ = 100
const SHORTEST_SAMPLES = 1000
const CHECKED_SAMPLES = 200_000
const NAMES = ['Pump pressure', 'Ram pressure', 'Pump flow', 'Relief return flow', 'Motor power']
const BAR_DECIMALS = 100
const US_PER_MS = 1000

/** Sample `i` of a channel, bar: a slow cycle with noise that any sample can be asked for alone. */
function readingBar(channel: number, i: number): number {
  const noise = Math.imul(i + channel * 7919, 0x9e3779b1) >>> 22
  const slow = Math.round(8000 + 7000 * Math.sin(i / (3000 + 500 * channel)))
  return toSi((slow + (noise & 63)) / BAR_DECIMALS, 'bar')
}

async function store(opened: OpenDatabase): Promise<LogRow> {
  const key = await newLog(opened.db, await newMachine(opened.db))
  const staging = await startStaging(opened.db, key)
  const timeS = new Float64Array(ROWS)
  for (let i = 0; i < ROWS; i++) timeS[i] = i / HZ
  const buffer = rowBuffer(staging.onRows)
  const part = new Float64Array(CHUNK_SAMPLES)
  const time = channelPacker(buffer, TIME_CHANNEL, '1', timeS)
  const packers = NAMES.map((name) => channelPacker(buffer, name, 'bar', timeS))
  for (let from = 0; from < ROWS; from += CHUNK_SAMPLES) {
    const count = Math.min(CHUNK_SAMPLES, ROWS - from)
    await time.add(timeS.subarray(from, from + count))
    for (const [channel, packer] of packers.entries()) {
      for (let i = 0; i < count; i++) part[i] = readingBar(channel, from + i)
      await packer.add(part.subarray(0, count))
    }
  }
  for (const packer of [time, ...packers]) await packer.finish()
  await buffer.flush()
  const channels = NAMES.map(
    (name): StoredChannel => ({
      name,
      column: name,
      quantity: 'pressure',
      location: 'load',
      unit: 'bar',
      accuracy: null,
    }),
  )
  const row = await finishLog(opened.db, key, {
    startedAt: null,
    endedAt: null,
    durationS: ROWS / HZ,
    sampleIntervalS: 1 / HZ,
    sampleCount: ROWS,
    rowsRead: ROWS,
    rowsUsed: ROWS,
    rowsRejected: 0,
    channels,
    report: null,
  })
  if (!row) throw new Error('the log is gone')
  return row
}

const quantile = (sorted: readonly number[], share: number) =>
  Number(sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(1))

async function measure(opened: OpenDatabase): Promise<void> {
  const started = performance.now()
  const row = await store(opened)
  console.log(`${opened.kind}: ${ROWS} rows stored in ${((performance.now() - started) / 1000).toFixed(1)} s`)
  const random = seededRandom(7)
  for (const names of [NAMES.slice(0, 1), NAMES]) {
    const ms: number[] = []
    const cpuMs: number[] = []
    let checked = 0
    for (let n = 0; n < WINDOWS; n++) {
      // Lengths even on a scale of powers; the first is the whole log.
      const length = n === 0 ? ROWS : Math.round(SHORTEST_SAMPLES * (ROWS / SHORTEST_SAMPLES) ** random())
      const from = Math.floor(random() * (ROWS - length))
      const query = { channels: names, fromS: from / HZ, toS: (from + length - 1) / HZ, points: MOST_POINTS }
      const used = process.cpuUsage()
      const began = performance.now()
      const samples = await readSamples(opened.db, row, query)
      ms.push(performance.now() - began)
      const { user, system } = process.cpuUsage(used)
      cpuMs.push((user + system) / US_PER_MS)
      if (samples.buckets.startS.length > MOST_POINTS) throw new Error('more points than asked for')
      if (samples.samples > CHECKED_SAMPLES) continue
      checked++
      const first = Math.round(samples.buckets.startS[0] * HZ)
      for (const [channel, { min, max }] of samples.channels.entries()) {
        let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
        for (let i = 0; i < samples.samples; i++) {
          const bar = readingBar(channel, first + i) / toSi(1, 'bar')
          low = Math.min(low, bar)
          high = Math.max(high, bar)
        }
        const [lowest, highest] = [Math.min(...min.map(Number)), Math.max(...max.map(Number))]
        if (lowest !== low || highest !== high)
          throw new Error(`extremes ${lowest} ${highest}, of the samples ${low} ${high}`)
      }
    }
    const [whole] = ms
    for (const list of [ms, cpuMs]) list.sort((a, b) => a - b)
    console.log(
      `${opened.kind}, ${names.length} channels, ${WINDOWS} windows: whole length ${whole.toFixed(1)} ms, ` +
        `p50 ${quantile(ms, 0.5)}, p95 ${quantile(ms, 0.95)}, longest ${quantile(ms, 1)} ms; ` +
        `processors' time of this process p50 ${quantile(cpuMs, 0.5)}, p95 ${quantile(cpuMs, 0.95)} ms; extremes of ${checked} held to the samples`,
    )
  }
}

const folder = mkdtempSync(join(tmpdir(), 'tankward-zoom-'))
try {
  const embedded = await openDatabase({ folder: join(folder, 'data') })
  await measure(embedded)
  await embedded.close()
  const server = await emptyServerDatabase()
  const opened = await openDatabase({ url: server.url, folder: null })
  await measure(opened)
  await opened.close()
  await server.drop()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
