import type { Estimate } from '@/lib/contract/estimate'
import type { IntervalPart } from '@/lib/contract/explanation'
import { PARAMETERS, type Parameter } from '@/lib/ledger/parameters'
import {
  BENDING,
  COVERAGE,
  DOUBT_SOURCES,
  OWN_SOURCES,
  ownVariance,
  type Sensitivity,
} from '@/lib/ledger/propagate'

/** What beside the parameters widens an interval. */
export const OTHER_SOURCES = [
  ...OWN_SOURCES,
  ...DOUBT_SOURCES,
  'cycle-spread',
  'few-cycles',
  'planned-hours',
  'energy-price',
  'maintenance',
  'replay',
  'option-model',
  'nothing-beyond-all',
  'relief-line',
  'finding',
  'pump-fit',
  'unseen-pumps',
  'investment',
  'rest',
] as const
export type PartSource = Parameter | (typeof OTHER_SOURCES)[number]

/** What one source contributes: signed roots of what it adds to the square of either side, 95 %. */
export interface Part {
  readonly source: PartSource
  readonly below: number
  readonly above: number
  /** What would be gone of the mean of both squares if the source were known exactly. */
  readonly known: number
}

/** Roots and squares that keep the sign: what narrows an interval counts against what widens it. */
export const signedRoot = (square: number) => Math.sign(square) * Math.sqrt(Math.abs(square))
export const signedSquare = (root: number) => root * Math.abs(root)

/** A part that reaches as far below as above, from its 95 % half-width. */
export const evenPart = (source: PartSource, half: number): Part => ({
  source,
  below: half,
  above: half,
  known: half * half,
})

/**
 * Parts of the interval of a sum of results weighed by `weights`, exactly as `reachOfSum` puts it together: marginal
 * contributions of the parameters (slope × covariance with the sum), both ends of the relief's, what may be the other way
 * round, and the results' own covariances. Contributions of tied parameters may be negative.
 */
export function partsOfSum(of: Sensitivity, weights: ReadonlyMap<number, number>): Part[] {
  const sum = (row: Float64Array) => {
    let total = 0
    for (const [index, weight] of weights) total += weight * row[index]
    return Number.isNaN(total) ? 0 : total
  }
  const slopes = of.rows.map(sum)
  const parts: Part[] = []
  slopes.forEach((slope, k) => {
    let withSum = 0
    slopes.forEach((other, l) => {
      withSum += other * of.covariance.get(k, l)
    })
    const square = COVERAGE ** 2 * slope * withSum
    const variance = of.covariance.get(k, k)
    const known = variance > 0 ? (COVERAGE * withSum) ** 2 / variance : 0
    if (square === 0 && known === 0) return
    parts.push({ source: PARAMETERS[k], below: signedRoot(square), above: signedRoot(square), known })
  })
  of.reliefEnds.forEach((pair, j) => {
    const ends = pair.map(sum)
    const below = -Math.min(0, ...ends)
    const above = Math.max(0, ...ends)
    if (below === 0 && above === 0) return
    parts.push({ source: PARAMETERS[BENDING[j]], below, above, known: (below ** 2 + above ** 2) / 2 })
  })
  for (const { source, change } of of.doubts) {
    const end = sum(change)
    const [below, above] = [-Math.min(0, end), Math.max(0, end)]
    if (end !== 0) parts.push({ source, below, above, known: end ** 2 / 2 })
  }
  for (const own of of.own) {
    const variance = ownVariance(own, weights)
    if (variance > 0) parts.push(evenPart(own.source, COVERAGE * Math.sqrt(variance)))
  }
  return parts
}

/** The parts of a figure that is another one times a factor. */
export function scaledParts(parts: readonly Part[], factor: number): Part[] {
  if (factor === 0) return []
  return parts.map(({ source, below, above, known }) => ({
    source,
    below: Math.abs(factor) * (factor < 0 ? above : below),
    above: Math.abs(factor) * (factor < 0 ? below : above),
    known: factor ** 2 * known,
  }))
}

/** How far below and above the parts reach together. */
export function reachOfParts(parts: readonly Part[]): { below: number; above: number } {
  const side = (of: 'below' | 'above') =>
    signedRoot(parts.reduce((sum, part) => sum + signedSquare(part[of]), 0))
  return { below: side('below'), above: side('above') }
}

/** Rounding of stored parts, and of the sums themselves. */
const CLOSED_SHARE = 1e-3

/** The parts with what they leave of the shown interval as a part of its own, named `remainder`. */
export function closedParts(
  parts: readonly Part[],
  shown: Pick<Estimate, 'value' | 'low' | 'high'>,
  remainder: PartSource,
): Part[] {
  const reach = reachOfParts(parts)
  const left = (wanted: number, have: number) => {
    const square = signedSquare(wanted) - signedSquare(have)
    return Math.abs(square) > CLOSED_SHARE * Math.max(wanted ** 2, have ** 2) ? signedRoot(square) : 0
  }
  const below = left(shown.value - shown.low, reach.below)
  const above = left(shown.high - shown.value, reach.above)
  if (below === 0 && above === 0) return [...parts]
  const known = Math.max(0, (signedSquare(below) + signedSquare(above)) / 2)
  return [...parts, { source: remainder, below, above, known }]
}

/** Parts as they are told, largest first, with shares of the variance. */
export function toldParts(
  parts: readonly Part[],
  columnOf: (source: PartSource) => string | null,
): IntervalPart[] {
  const square = ({ below, above }: Part) => (signedSquare(below) + signedSquare(above)) / 2
  const total = parts.reduce((sum, part) => sum + square(part), 0)
  return [...parts]
    .sort((a, b) => Math.abs(square(b)) - Math.abs(square(a)))
    .map((part) => ({
      source: part.source,
      column: columnOf(part.source),
      below: part.below,
      above: part.above,
      halfWidth: signedRoot(square(part)),
      shareOfVariance: total > 0 ? square(part) / total : 0,
      goneIfKnown: total > 0 ? Math.min(1, part.known / total) : 0,
    }))
}
