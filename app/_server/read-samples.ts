import { STREAM_CHANNELS, TIME_CHANNEL } from '@/app/_jobs/channel-names'
import { shown, shownMean } from '@/app/_jobs/preview'
import { hasAccountSeries } from '@/app/_jobs/store-log'
import type { Database } from '@/db/client'
import { isStored, type LogRow } from '@/db/schema/logs'
import { emptyCells } from '@/lib/samples/envelope'
import { planWindow } from '@/lib/samples/envelope-plan'
import type { Unit } from '@/lib/units'
import { ApiProblem } from './api-problem'
import { findWindow } from './find-window'
import { readEnvelopes } from './read-envelope'
import type { SamplesQuery } from './samples-query'
import type { Samples } from './shapes'

/** Every channel that can be asked for, with the unit it is answered in. */
function channelUnits(row: LogRow): Map<string, Unit> {
  const logged = (row.channels ?? []).map(({ name, unit }) => [name, unit] as const)
  const streams = STREAM_CHANNELS.map((name) => [name, 'W'] as const)
  return new Map<string, Unit>([...logged, ...streams, [TIME_CHANNEL, '1']])
}

/** The names asked for; a value may hold several with commas between, and a name may hold a comma itself. */
function wantedChannels(row: LogRow, asked: readonly string[], units: Map<string, Unit>): string[] {
  if (asked.length === 0) return (row.channels ?? []).map(({ name }) => name)
  const names = asked.flatMap((one) => (units.has(one) ? [one] : one.split(',').map((name) => name.trim())))
  for (const channel of names)
    if (!units.has(channel))
      throw new ApiProblem('unknown-channel', { channel, known: [...units.keys()].join(', ') })
  return [...new Set(names)]
}

/**
 * The envelope of a stretch of a stored log: min, max and mean of each bucket of samples, extremes exact.
 * @throws ApiProblem `not-ready`, `unknown-channel`, `account-not-stored`
 */
export async function readSamples(db: Database, row: LogRow, query: SamplesQuery): Promise<Samples> {
  if (!isStored(row) || row.sampleCount === null)
    throw new ApiProblem('not-ready', { id: row.id, state: row.state })
  const units = channelUnits(row)
  const names = wantedChannels(row, query.channels, units)
  const key = { machineId: row.machineId, logId: row.id }
  if (names.some((name) => STREAM_CHANNELS.includes(name)) && !(await hasAccountSeries(db, key)))
    throw new ApiProblem('account-not-stored', { id: row.id })
  const fromS = query.fromS ?? 0
  const toS = query.toS ?? row.durationS ?? 0
  const { fromSample, endSample } = await findWindow(db, key, fromS, toS)
  const plan = planWindow(row.sampleCount, fromSample, endSample, query.points)
  const buckets = await readEnvelopes(db, key, [TIME_CHANNEL, ...names], plan)
  const of = (name: string) => buckets.get(name) ?? emptyCells(0)
  const times = of(TIME_CHANNEL)
  const channels = []
  for (const name of names) {
    const unit = units.get(name) ?? '1'
    const { min, max, mean } = of(name)
    channels.push({ name, unit, min: shown(min, unit), max: shown(max, unit), mean: shownMean(mean, unit) })
  }
  return {
    id: row.id,
    fromS,
    toS,
    samples: endSample - fromSample,
    bucketSamples: plan.bucketSamples,
    buckets: { startS: [...times.min], endS: [...times.max] },
    channels,
  }
}
