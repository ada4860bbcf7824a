import { Matrix } from 'ml-matrix'
import { PHASE_KINDS } from '@/lib/contract/result'
import { IDLE_KINDS } from './idle'
import type { Ledger } from './ledger'
import { PARAMETERS, priorSd } from './parameters'
import { BENDING } from './propagate'
import { kindIndex, shareIndex } from './totals'

/** Energies of a recording at the meter whose doubt is told apart; `overRelief` holds what is unloaded outside idle. */
export const WITNESSES = ['electric', 'idle', 'overRelief', 'metering'] as const
export type Witness = (typeof WITNESSES)[number]

/**
 * Doubt of a recording's energies, told apart by whether another recording of the machine is off the same way. What
 * its own sensors and edges do is independent of other recordings; what the plates leave open is shared by all.
 */
export interface LogSpread {
  /** The energies themselves in J, in the order of WITNESSES; NaN where not separable. */
  readonly energyJ: readonly number[]
  /** Covariance of what this recording alone is off by, J², row by row. */
  readonly independent: readonly number[]
  /** By witness: what one standard deviation of each plate value moves, J; the same values in every recording. */
  readonly shared: readonly (readonly number[])[]
  /** By relief and pump parameter that bends results, by end of its 95 % interval, by witness: the move in J. */
  readonly ends: readonly (readonly (readonly number[])[])[]
}

/** Of the plates: all that is no sensor's offset and bends nothing. */
const SHARED = PARAMETERS.map((_, k) => k).filter(
  (k) => !PARAMETERS[k].endsWith('Offset') && !BENDING.includes(k),
)

/** How many plate values recordings share. */
export const SHARED_COUNT = SHARED.length

function indicesOf(witness: Witness): readonly number[] {
  if (witness === 'electric') return PHASE_KINDS.map((kind) => kindIndex(kind, 'electricIn'))
  if (witness === 'idle') return IDLE_KINDS.map((kind) => kindIndex(kind, 'electricIn'))
  return [shareIndex(witness)]
}

/**
 * The spread of a recording. A plate value θ has a prior variance P; the recording knows it to a covariance V. The
 * error of its estimate given θ is V P⁻¹ θ on average: that part every recording of the machine shares, the rest of V
 * is its own (conditional expectation of a normal distribution; JCGM 101:2008, 6.4.8 gives the joint one).
 */
export function logSpread(ledger: Pick<Ledger, 'sensitivity' | 'sensors' | 'plate' | 'totals'>): LogSpread {
  const { rows, covariance, reliefEnds, own } = ledger.sensitivity
  const prior = priorSd(ledger.sensors, ledger.plate)
  const known = (value: number) => (Number.isNaN(value) ? 0 : value)
  const sum = (row: ArrayLike<number>, indices: readonly number[]) =>
    indices.reduce((total, index) => total + row[index], 0)
  const places = WITNESSES.map(indicesOf)
  const slopes = new Matrix(places.map((indices) => rows.map((row) => known(sum(row, indices)))))
  const moved = slopes.mmul(covariance)
  const shared = places.map((_, w) => SHARED.map((k) => (prior[k] > 0 ? moved.get(w, k) / prior[k] : 0)))
  const all = moved.mmul(slopes.transpose())
  const independent = places.flatMap((a, i) =>
    places.map((b, j) => {
      const plates = shared[i].reduce((total, value, k) => total + value * shared[j][k], 0)
      const others = own.reduce(
        (total, one) =>
          total +
          a.reduce(
            (part, x) =>
              part +
              sum(
                b.map((y) => one.covariance.get(x, y)),
                [...b.keys()],
              ),
            0,
          ),
        0,
      )
      return all.get(i, j) - plates + known(others)
    }),
  )
  return {
    energyJ: places.map((indices) => sum(ledger.totals, indices)),
    independent,
    shared,
    ends: reliefEnds.map((pair) => pair.map((end) => places.map((indices) => known(sum(end, indices))))),
  }
}
