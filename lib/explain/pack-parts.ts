import { PARAMETERS } from '@/lib/ledger/parameters'
import { OTHER_SOURCES, type Part, type PartSource, reachOfParts, signedRoot, signedSquare } from './parts'

/** Parts as short rows: source, below, above, and what would be gone if it were known. */
export type PackedParts = readonly (readonly [
  source: PartSource,
  below: number,
  above: number,
  known: number,
])[]

const DIGITS = 5
/** Parts below this share of the interval's width are put together as `rest`. */
const LEAST_SHARE = 0.01

const short = (value: number) => Number(value.toPrecision(DIGITS))

/** Parts ready to be stored: five digits, the smallest ones as one. */
export function packParts(parts: readonly Part[]): PackedParts {
  const { below, above } = reachOfParts(parts)
  const least = LEAST_SHARE * Math.max(below, above)
  const isSmall = (part: Part) => Math.abs(part.below) < least && Math.abs(part.above) < least
  const small = parts.filter(isSmall)
  const packed = parts
    .filter((part) => !isSmall(part))
    .map((part) => [part.source, short(part.below), short(part.above), short(part.known)] as const)
  if (small.length === 0) return packed
  const together = (side: 'below' | 'above') =>
    short(signedRoot(small.reduce((sum, part) => sum + signedSquare(part[side]), 0)))
  return [...packed, ['rest', together('below'), together('above'), 0]]
}

const SOURCES: readonly PartSource[] = [...PARAMETERS, ...OTHER_SOURCES]

/** Parts as they were packed; rows of sources that this engine does not know become `rest`. */
export function unpackParts(packed: PackedParts): Part[] {
  return packed.map(([source, below, above, known]) => ({
    source: SOURCES.includes(source) ? source : 'rest',
    below,
    above,
    known,
  }))
}
