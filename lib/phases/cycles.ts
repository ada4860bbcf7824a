import type { Phase, PhaseKind } from '@/lib/contract/result'
import { meanOf } from '@/lib/numeric/mean'

/** One whole repeat of the machine's recurring pattern of phases, elapsed seconds. */
export interface Cycle {
  readonly startS: number
  readonly endS: number
}

interface Block {
  readonly startS: number
  readonly endS: number
  /** True where nothing cut the block: neither a gap nor an end of the log. */
  readonly whole: boolean
  /** True where idle follows the work. */
  readonly idles: boolean
  readonly signature: string
  /** Time at work, s. */
  readonly workS: number
}

const isWork = (kind: PhaseKind) => kind.startsWith('work')
const isIdle = (kind: PhaseKind) => kind.startsWith('idle')
const LONGEST_PATTERN = 8
/** Share of blocks that must match the block one pattern later. */
const MATCH_SHARE = 0.9
/** Neighbouring blocks alike more often than this are one cycle each. */
const ALIKE_SHARE = 0.5

/** Strokes of different lengths in turn are a pattern after so many repeats of it. */
const LEAST_TURNS = 4
/** Their lengths differ by at least this (variance of the logarithms; 0.04 is about a fifth), */
const LEAST_SPREAD = 0.04
/** and those of one place in the pattern by no more than this share of it. */
const OWN_SPREAD_SHARE = 0.1

const spreadOf = (values: readonly number[], around = meanOf(values)) =>
  meanOf(values.map((value) => (value - around) ** 2))

/** Smallest number of blocks after which strokes of like lengths come again; 1 where they differ by chance, or not. */
function turnsLength(blocks: readonly Block[]): number {
  const lengths = blocks.filter(({ whole }) => whole).map(({ workS }) => Math.log(workS))
  const all = spreadOf(lengths)
  if (!(all > LEAST_SPREAD)) return 1
  for (
    let length = 2;
    length * LEAST_TURNS <= Math.min(lengths.length, LONGEST_PATTERN * LEAST_TURNS);
    length++
  ) {
    const places = Array.from({ length }, (_, place) => lengths.filter((_, i) => i % length === place))
    const own = places.reduce((sum, of) => sum + spreadOf(of) * of.length, 0) / lengths.length
    if (own < OWN_SPREAD_SHARE * all) return length
  }
  return 1
}

/** Smallest number of tokens after which the sequence repeats; 1 where none is found. */
function patternLength(signatures: readonly string[]): number {
  const alike = signatures.filter((one, i) => i > 0 && one === signatures[i - 1]).length
  if (alike > ALIKE_SHARE * (signatures.length - 1)) return 1
  for (let length = 2; length <= Math.min(LONGEST_PATTERN, signatures.length / 2); length++) {
    let same = 0
    for (let i = 0; i + length < signatures.length; i++) if (signatures[i] === signatures[i + length]) same++
    if (same >= MATCH_SHARE * (signatures.length - length)) return length
  }
  return 1
}

/** Work with the idle that follows it: the unit between two starts of work. */
function workBlocks(phases: readonly Phase[]): Block[] {
  const blocks: Block[] = []
  for (let i = 0; i < phases.length; i++) {
    if (!isWork(phases[i].kind)) continue
    const first = i
    const joined = (k: number) => Math.abs(phases[k].startS - phases[k - 1].endS) < 1e-6
    while (i + 1 < phases.length && isWork(phases[i + 1].kind) && joined(i + 1)) i++
    const lastWork = i
    while (i + 1 < phases.length && isIdle(phases[i + 1].kind) && joined(i + 1)) i++
    const opens = first > 0 && joined(first)
    const closes = i + 1 < phases.length && joined(i + 1)
    const idles = phases.slice(lastWork + 1, i + 1).map((phase) => phase.kind)
    blocks.push({
      startS: phases[first].startS,
      endS: phases[i].endS,
      whole: opens && closes,
      idles: idles.length > 0,
      workS: phases[lastWork].endS - phases[first].startS,
      signature: [...phases.slice(first, lastWork + 1).map((phase) => phase.kind), ...idles].join(' '),
    })
  }
  return blocks
}

/** Fewer cycles than this make no pattern of phases. */
const FEW_CYCLES = 3

/** Where a machine never idles between strokes, every phase is a token of the pattern. */
function phaseTokens(phases: readonly Phase[]): Block[] {
  return phases
    .filter((phase) => isWork(phase.kind))
    .map((phase, i, all) => ({
      startS: phase.startS,
      endS: phase.endS,
      whole: i > 0 && i + 1 < all.length && Math.abs(all[i + 1].startS - phase.endS) < 1e-6,
      idles: false,
      signature: phase.kind,
      workS: phase.endS - phase.startS,
    }))
}

/**
 * Cycles of a recording: repeats of the recurring pattern of phases, idle or not. A cycle cut by an end
 * of the log or by a gap does not count. A last one that ends with the motor's stop is whole.
 */
export function findCycles(phases: readonly Phase[]): Cycle[] {
  const blocks = workBlocks(phases)
  const kindsLength = patternLength(blocks.map((block) => block.signature))
  const byBlocks = repeatsOf(blocks, kindsLength > 1 ? kindsLength : turnsLength(blocks))
  // A machine that idled between two strokes tells its cycles by its idles, however few were logged.
  const idled = blocks.slice(0, -1).some((block) => block.idles)
  if (idled || byBlocks.length >= FEW_CYCLES) return byBlocks
  const tokens = phaseTokens(phases)
  const byPhases = repeatsOf(tokens, patternLength(tokens.map((token) => token.signature)))
  return byPhases.length >= FEW_CYCLES ? byPhases : byBlocks
}

/** Whole repeats of a pattern of so many blocks. */
function repeatsOf(blocks: readonly Block[], length: number): Cycle[] {
  const cycles: Cycle[] = []
  let i = 0
  while (i + length <= blocks.length) {
    const part = blocks.slice(i, i + length)
    const together = part.every((block, k) => k === 0 || Math.abs(block.startS - part[k - 1].endS) < 1e-6)
    if (together && part.every((block) => block.whole)) {
      cycles.push({ startS: part[0].startS, endS: part[length - 1].endS })
      i += length
    } else i++
  }
  return cycles
}
