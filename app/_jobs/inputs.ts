import { createHash } from 'node:crypto'
import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import type { Site } from '@/lib/contract/site'
import { ENGINE_VERSION } from './engine-version'

/** Which set-up a log was read and computed with. */
export interface Inputs {
  /** Columns and time zone: where these change, the original file is read again. */
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

/** Fingerprints of a set-up and a log's corrections; equal exactly where reading and computing would give the same again. */
export function inputsOf(machine: Machine, site: Site, corrections: readonly Correction[]): Inputs {
  const { channels = null, ...nameplate } = machine
  const said = corrections.map(({ startS, endS, kind }) => ({ startS, endS, kind }))
  return {
    readingInputs: fingerprint({ channels, timeZone: site.timeZone }),
    computingInputs: fingerprint({ nameplate, site, said, engine: ENGINE_VERSION }),
  }
}
