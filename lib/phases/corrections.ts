import type { Correction } from '@/lib/contract/corrections'
import type { AppliedCorrection, Phase, PhaseKind } from '@/lib/contract/result'
import { TankwardError } from '@/lib/errors'
import { readerOf, type SampleReader } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import type { Step, Stretch } from './stretch'
import { stepOf } from './stretch-columns'

/** Samples [from, to) on which the correction of this index has the last word. */
interface Part {
  readonly from: number
  readonly to: number
  readonly index: number
}

type Times = Pick<Trace, 'timeS' | 'holdS' | 'sampleIntervalS'>

/** Ends that differ by rounding of a decimal number are the same end. */
export const ROUNDING_S = 1e-6

/** First sample at or after an elapsed time. */
function sampleFrom(timeS: SampleReader, seconds: number): number {
  let low = 0
  let high = timeS.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (timeS.at(middle) < seconds - ROUNDING_S) low = middle + 1
    else high = middle
  }
  return low
}

/**
 * Refuses a correction that cannot act on a log.
 * @param place number of the correction, 1 for the first, for whoever must find it
 * @param samples how many samples it covers
 * @throws TankwardError `correction-outside` the log's time, `correction-without-samples`
 */
export function checkCorrection(
  { startS, endS }: Correction,
  place: number,
  durationS: number,
  samples: number,
): void {
  const values = { correction: place, startS, endS, durationS }
  if (!(startS >= 0 && endS <= durationS + ROUNDING_S)) throw new TankwardError('correction-outside', values)
  if (samples <= 0) throw new TankwardError('correction-without-samples', values)
}

/** Samples [from, to) that a correction covers. */
function samplesOf(correction: Correction, times: Times, place: number): { from: number; to: number } {
  const { sampleIntervalS } = times
  const timeS = readerOf(times.timeS)
  const from = sampleFrom(timeS, correction.startS)
  const to = sampleFrom(timeS, correction.endS)
  checkCorrection(correction, place, timeS.at(timeS.length - 1) + sampleIntervalS, to - from)
  return { from, to }
}

/** Parts in time, none overlapping: of two corrections the later has the last word. */
function lastWords(corrections: readonly Correction[], times: Times): Part[] {
  let parts: Part[] = []
  corrections.forEach((correction, index) => {
    const { from, to } = samplesOf(correction, times, index + 1)
    parts = parts.flatMap((part) =>
      [
        { ...part, to: Math.min(part.to, from) },
        { ...part, from: Math.max(part.from, to) },
      ].filter((rest) => rest.from < rest.to),
    )
    parts.push({ from, to, index })
  })
  return parts.sort((a, b) => a.from - b.from)
}

/** A step cut at the ends of corrections: which found step it is of, and the kind a person gave it, if any. */
interface Piece {
  readonly from: number
  to: number
  readonly of: number
  readonly given: PhaseKind | null
}

/** Kinds that another longest hold may turn into each other. */
const DEAD_HEADED: ReadonlySet<PhaseKind> = new Set(['idle-loaded', 'work-holding'])

/** Steps in time, cut where a correction begins or ends and makes a difference. */
function piecesOf(
  found: readonly Step[],
  parts: readonly Part[],
  corrections: readonly Correction[],
): Piece[] {
  const pieces: Piece[] = []
  let next = 0
  found.forEach((step, of) => {
    const first = pieces.length
    const push = (from: number, to: number, given: PhaseKind | null) => {
      if (from >= to) return
      // What only confirms the kind parts nothing, so that it changes no figure.
      const same = given === step.kind && !DEAD_HEADED.has(step.kind) ? null : given
      const last = pieces.length > first ? pieces[pieces.length - 1] : null
      if (last?.given === same) last.to = to
      else pieces.push({ from, to, of, given: same })
    }
    let at = step.from
    while (next < parts.length && parts[next].to <= step.from) next++
    for (let p = next; p < parts.length && parts[p].from < step.to; p++) {
      const { from, to, index } = parts[p]
      push(at, from, null)
      at = Math.min(to, step.to)
      push(Math.max(from, step.from), at, corrections[index].kind)
    }
    push(at, step.to, null)
  })
  return pieces
}

function appliedTo(
  found: readonly Step[],
  parts: readonly Part[],
  corrections: readonly Correction[],
  times: Times,
): AppliedCorrection[] {
  const holdS = readerOf(times.holdS)
  const secondsOf = (from: number, to: number) => {
    let sum = 0
    for (let i = from; i < to; i++) sum += holdS.at(i)
    return sum
  }
  return corrections.map((correction, index) => {
    const { from, to } = samplesOf(correction, times, index + 1)
    const foundS: Record<string, number> = {}
    for (const step of found) {
      if (step.from >= to || step.to <= from) continue
      const seconds = secondsOf(Math.max(from, step.from), Math.min(to, step.to))
      foundS[step.kind] = (foundS[step.kind] ?? 0) + seconds
    }
    const inForceS = parts
      .filter((part) => part.index === index)
      .reduce((sum, part) => sum + secondsOf(part.from, part.to), 0)
    const { startS, endS, kind } = correction
    return { startS, endS, kind, foundS, inForceS }
  })
}

/** The step itself where it is of the kind: another reading of a long log differs in few. */
const withKind = (step: Step, kind: PhaseKind) => (step.kind === kind ? step : stepOf(step, kind))

export interface CorrectedSteps {
  readonly steps: readonly Step[]
  readonly applied: readonly AppliedCorrection[]
  /** The same steps where other kinds had been found, one for each found step; what a person said stays. */
  withFound(kinds: readonly PhaseKind[]): Step[]
  /** Phases joined from `steps`, with a mark on those that a correction reaches into. */
  marked(phases: readonly Phase[]): readonly Phase[]
}

/**
 * Lets a person's corrections override the kind of every sample in [startS, endS), before anything is fitted
 * or accounted. Steps are cut at their ends; samples outside keep the kind that was found, neighbours too.
 * Where corrections overlap the later wins. A step after a gap stays one, so nothing is bridged.
 * @param cut makes the stretch of samples [from, to)
 * @throws TankwardError `correction-outside`, `correction-without-samples`
 */
export function correctSteps(
  found: readonly Step[],
  corrections: readonly Correction[],
  times: Times,
  cut: (from: number, to: number, afterGap: boolean) => Stretch,
): CorrectedSteps {
  if (corrections.length === 0) {
    return {
      steps: found,
      applied: [],
      withFound: (kinds) => found.map((step, k) => withKind(step, kinds[k])),
      marked: (phases) => phases,
    }
  }
  const timeS = readerOf(times.timeS)
  const parts = lastWords(corrections, times)
  const pieces = piecesOf(found, parts, corrections)
  const steps = pieces.map(({ from, to, of, given }): Step => {
    const step = found[of]
    const kind = given ?? step.kind
    if (from === step.from && to === step.to) return withKind(step, kind)
    return stepOf(cut(from, to, step.afterGap && from === step.from), kind)
  })
  return {
    steps,
    applied: appliedTo(found, parts, corrections, times),
    withFound: (kinds) => steps.map((step, k) => withKind(step, pieces[k].given ?? kinds[pieces[k].of])),
    marked(phases) {
      let next = 0
      return phases.map((phase) => {
        while (next < parts.length && timeS.at(parts[next].to - 1) < phase.startS) next++
        const isReached = next < parts.length && timeS.at(parts[next].from) < phase.endS
        return isReached ? { ...phase, corrected: true as const } : phase
      })
    },
  }
}
