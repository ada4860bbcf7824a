import type { DescribedExplanation } from '@/app/_words/describe-explanation'

type Part = DescribedExplanation['intervalParts'][number]

/** A part of an interval as a line: one source, or several of a kind that partly cancel. */
export type PartLine = Pick<Part, 'source' | 'name' | 'below' | 'above' | 'halfWidth' | 'shareOfVariance'> & {
  readonly detail: string | null
}

const PUMP = ['displacement', 'leakage', 'lossTorque', 'constantShare']
const MOTOR = ['noLoadLossShare', 'noLoadCurrent', 'form', 'voltage', 'ratedLoss']
const RELIEF = ['reliefLeak', 'reliefSetting', 'reliefSpan', 'relief-line']

const KINDS: readonly { readonly name: string; readonly has: (part: Part) => boolean }[] = [
  { name: 'Offsets of sensors, together', has: ({ column }) => column !== null },
  { name: 'Model of the pump, together', has: ({ source }) => PUMP.includes(source) },
  { name: 'Model of the motor, together', has: ({ source }) => MOTOR.includes(source) },
  { name: 'Model of the relief, together', has: ({ source }) => RELIEF.includes(source) },
]

/** Contributions add up by their squares, each with its sign. */
function joined(values: readonly number[]): number {
  const square = values.reduce((sum, value) => sum + value * Math.abs(value), 0)
  return Math.sign(square) * Math.sqrt(Math.abs(square))
}

const ofPart = (part: Part): PartLine => ({ ...part, detail: part.column })

function together(name: string, parts: readonly Part[]): PartLine {
  return {
    source: name,
    name,
    detail: parts.map((part) => part.column ?? part.name).join('; '),
    below: joined(parts.map(({ below }) => below)),
    above: joined(parts.map(({ above }) => above)),
    halfWidth: joined(parts.map(({ halfWidth }) => halfWidth)),
    shareOfVariance: parts.reduce((sum, { shareOfVariance }) => sum + shareOfVariance, 0),
  }
}

/**
 * Parts of an interval, largest first; those of one kind become one line where one of them takes off what another
 * adds: each alone says nothing then.
 * @param leastShare of the variance below which what a part takes off is not worth joining for
 */
export function tiedTogether(parts: readonly Part[], leastShare: number): PartLine[] {
  const lines: PartLine[] = []
  let left = [...parts]
  for (const { name, has } of KINDS) {
    const kind = left.filter(has)
    if (kind.length < 2 || !kind.some(({ shareOfVariance }) => shareOfVariance <= -leastShare)) continue
    lines.push(together(name, kind))
    left = left.filter((part) => !has(part))
  }
  if (lines.length === 0) return parts.map(ofPart)
  const size = ({ shareOfVariance }: PartLine) => Math.abs(shareOfVariance)
  return [...lines, ...left.map(ofPart)].sort((a, b) => size(b) - size(a))
}
