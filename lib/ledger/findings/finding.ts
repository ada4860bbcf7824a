import type { Basis, Estimate } from '@/lib/contract/estimate'
import { type Finding, PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import { J_PER_KWH } from '@/lib/units'
import { scaled } from '../estimates'
import type { Ledger } from '../ledger'
import type { Streams } from '../operating-point'
import { COVERAGE } from '../propagate'
import { kindIndex } from '../totals'

/** What a year of running costs, from a log's energy. */
export interface YearCost {
  /** Cost per year of one J of electricity in the log. */
  readonly perLoggedJ: number
}

/** Energy of some kinds of phases in one stream, J. */
export function sumOf(ledger: Ledger, key: keyof Streams, kinds: readonly PhaseKind[] = PHASE_KINDS): number {
  return kinds.reduce((sum, kind) => sum + ledger.totals[kindIndex(kind, key)], 0)
}

/** Electricity at the meter for one J of hydraulic energy, on average over the kinds. */
export function meterPerHydraulic(ledger: Ledger, kinds: readonly PhaseKind[] = PHASE_KINDS): number {
  const of = (key: keyof Streams) => sumOf(ledger, key, kinds)
  const hydraulicJ = of('overRelief') + of('intoSystem') + of('unloading')
  return hydraulicJ > 0 ? of('electricIn') / hydraulicJ : 0
}

/** An electric energy of the log with its relative standard deviation, as kWh and as cost per year; neither is below nil. */
export function priced(
  electricJ: number,
  sdShare: number,
  year: YearCost,
  basis: Basis = 'estimated',
): { kWhInLog: Estimate; costPerYear: Estimate } {
  const value = Math.max(0, electricJ)
  const reach = COVERAGE * sdShare * value
  const energyJ: Estimate = { value, low: Math.max(0, value - reach), high: value + reach, basis }
  return { kWhInLog: scaled(energyJ, 1 / J_PER_KWH), costPerYear: scaled(energyJ, year.perLoggedJ) }
}

/** Shorter steps are transitions: nobody would find much there. */
const LEAST_PLACE_S = 1

/** Where in the log something shows: its time in all, the first step that shows it and the one that shows it most. */
export function evidenceIn(
  ledger: Ledger,
  steps: readonly Step[],
  sizeOf: (step: Step) => number,
): Finding['evidence'] {
  const { sampleIntervalS } = ledger.trace
  const timeS = readerOf(ledger.trace.timeS)
  const place = ({ from, to }: Step) => ({ startS: timeS.at(from), endS: timeS.at(to - 1) + sampleIntervalS })
  const long = steps.filter(({ durationS }) => durationS >= LEAST_PLACE_S)
  const places = long.length > 0 ? long : steps
  const sizes = places.map(sizeOf)
  const worst = sizes.reduce((best, size, k) => (size > sizes[best] ? k : best), 0)
  return {
    seconds: steps.reduce((sum, { durationS }) => sum + durationS, 0),
    first: places.length > 0 ? place(places[0]) : null,
    worst: places.length > 0 ? place(places[worst]) : null,
  }
}
