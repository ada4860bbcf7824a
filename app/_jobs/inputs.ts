import { createHash } from 'node:crypto'
import type { LogRow } from '@/db/schema/logs'
import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import type { Answers, Reading } from '@/lib/contract/reading'
import type { Site } from '@/lib/contract/site'
import { siteMet } from '@/lib/economics/tariff-version'
import type { LeftOut } from '@/lib/months/calendar'
import { leftOutOf } from '@/lib/months/overlap'
import { ENGINE_VERSION } from './engine-version'

/** Which set-up a log was read and computed with. */
export interface Inputs {
  /** Columns, time zone and a person's answers: where these change, the original file is read again. */
  readonly readingInputs: string
  /** All the rest, a person's corrections too: where only this changes, the stored samples are analysed again. */
  readonly computingInputs: string
}

/** A value's JSON with keys in order: the database gives them back in an order of its own. */
function ordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(ordered)
  if (typeof value !== 'object' || value === null) return value
  const entries = Object.entries(value).filter(([, one]) => one !== undefined)
  return Object.fromEntries(
    entries.sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, one]) => [key, ordered(one)]),
  )
}

const fingerprint = (value: unknown) =>
  createHash('sha256')
    .update(JSON.stringify(ordered(value)))
    .digest('hex')

/** A machine as a log of it is read: columns that a person named for the file stand in the place of its own. */
export function machineAsRead<M extends Machine | null>(machine: M, reading: Reading | null | undefined): M {
  return machine && reading?.channels ? { ...machine, channels: reading.channels } : machine
}

/** What of a reading is about the file, and not about its columns; undefined where nothing is. */
export function answersOf(reading: Reading | null | undefined): Answers | undefined {
  if (!reading) return undefined
  const { channels: _, ...answers } = reading
  return Object.keys(answers).length > 0 ? answers : undefined
}

/** When a log was recorded, as far as it is known. */
export interface Recorded {
  readonly startedAt: Date | null
  readonly endedAt: Date | null
}

/** The site as a log meets it: what it holds on other days does not concern the log. */
export const siteOfLog = (site: Site, { startedAt, endedAt }: Recorded): Site =>
  siteMet(site, startedAt?.getTime() ?? null, endedAt?.getTime() ?? null)

/** What of a stored log's time other recordings of its machine account for. */
export function overlapOf(row: LogRow, machineLogs: readonly LogRow[]): LeftOut[] {
  const as = (log: LogRow) => ({
    id: log.id,
    importedMs: log.createdAt.getTime(),
    startedMs: log.startedAt?.getTime() ?? null,
    endedMs: log.endedAt?.getTime() ?? null,
  })
  return leftOutOf(as(row), machineLogs.map(as))
}

/** Fingerprints of a set-up, of how a log is read and of its corrections; equal exactly where reading and computing would give the same again. */
export function inputsOf(
  machine: Machine,
  site: Site,
  corrections: readonly Correction[],
  reading: Reading | null = null,
  leftOut: readonly LeftOut[] = [],
): Inputs {
  const { channels: declared = null, ...nameplate } = machineAsRead(machine, reading)
  // What an auditor asks of a sensor changes no reading.
  const channels = declared?.map(({ evidence: _, ...channel }) => channel) ?? null
  const said = corrections.map(({ startS, endS, kind }) => ({ startS, endS, kind }))
  // Only where there is any: most logs lie alone.
  const overlap = leftOut.length > 0 ? { leftOut } : {}
  return {
    readingInputs: fingerprint({ channels, timeZone: site.timeZone, answers: answersOf(reading) }),
    computingInputs: fingerprint({ nameplate, site, said, engine: ENGINE_VERSION, ...overlap }),
  }
}
