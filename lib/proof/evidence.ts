import type { Basis } from '@/lib/contract/estimate'
import type { Accuracy, Location, Quantity } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'

/** One value a kind of phase that occurs; those left out are nil. */
export type ByKind = Readonly<Partial<Record<PhaseKind, number>>>

/** A log's whole cycles, an entry each: struct of arrays, so that thousands stay small where they are stored. */
export interface CycleColumns {
  /** Elapsed seconds from the log's first sample. */
  readonly startS: readonly number[]
  readonly endS: readonly number[]
  readonly energyJ: readonly number[]
  /** Seconds of each kind that occurs. */
  readonly seconds: Readonly<Partial<Record<PhaseKind, readonly number[]>>>
  /** Mean load pressure at work; null without a sensor. */
  readonly loadPa: readonly (number | null)[]
  readonly oilC: readonly (number | null)[]
  /** Mean pump pressure while idle; null in a cycle without idle. */
  readonly idlePa: readonly (number | null)[]
  /** Highest pump pressure of any steady stretch in it that lasts. */
  readonly highestPa: readonly (number | null)[]
}

/**
 * What one uncertain quantity does to a log's electric input, J for one prior standard deviation of it, by kind of phase,
 * after the log's own evidence is in. A sensor's offset is drawn anew for every log; what a model lacks is the same in all.
 */
export interface Doubt {
  /** Name of the parameter. */
  readonly source: string
  readonly of: 'sensor' | 'model'
  readonly byKindJ: ByKind
}

/** A fitted sensor, so that a changed set-up is seen. */
export interface FittedSensor {
  readonly column: string
  readonly quantity: Quantity
  readonly location: Location
  readonly accuracy: Accuracy | null
}

/** What one log says for a proof of savings: small, and enough without the samples. */
export interface LogEvidence {
  readonly version: 1
  readonly startedAtMs: number | null
  readonly durationS: number
  readonly sampleIntervalS: number
  /** Whole log, standstill included. */
  readonly electricJ: number
  readonly secondsByKind: ByKind
  readonly energyByKindJ: ByKind
  readonly basis: Basis
  readonly cycles: CycleColumns
  readonly doubts: readonly Doubt[]
  /** Standard deviation of the electric input from what is this log's alone: what its own fit leaves. */
  readonly ownSdJ: number
  readonly sensors: readonly FittedSensor[]
  /** Means over working time. */
  readonly loadPa: number | null
  readonly oilC: number | null
  /** Full-flow pressure of the relief as the log shows it. */
  readonly reliefSettingPa: number | null
}
