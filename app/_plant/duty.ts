import type { PhaseKind } from '@/lib/contract/result'
import { normal, type Random } from '@/lib/numeric/random'

/** Lowest and highest value of a uniform draw. */
export type Range = readonly [number, number]

/** One step of the work cycle. Loads are shares of the relief setting, flows of the pump's rated flow. */
export type Step =
  | { readonly kind: 'work-moving'; readonly durationS: Range; readonly load: Range; readonly rise?: number }
  | {
      readonly kind: 'work-metering'
      readonly durationS: Range
      readonly load: Range
      readonly rise?: number
      readonly flow: Range
    }
  | {
      readonly kind: 'work-holding'
      readonly durationS: Range
      /** Absent: the actuator hangs on the pump. Else it is locked at this load while the pump dead-heads. */
      readonly lockedLoad?: Range
      /** Leakage past the actuator, share of rated flow. */
      readonly flow: Range
    }

export interface Duty {
  readonly steps: readonly Step[]
  readonly idleKind: 'idle-loaded' | 'idle-unloaded'
  /** Between cycles. */
  readonly idleS: Range
  /** A timer keeps the pump at the relief for so long, s, before a machine that unloads does; absent: none. */
  readonly unloadsAfterS?: number
  /** A longer pause now and then: how often a cycle is followed by one, how long, and whether the motor is stopped. */
  readonly pause: { readonly share: number; readonly durationS: Range; readonly stopShare: number }
  /** Motor off at the start and the end of the log. */
  readonly stoppedS: Range
  readonly startS: Range
  /** The machine runs but never works: a log over a weekend. */
  readonly workless?: boolean
}

/** A stretch of the demand and of the valve states that go with it. */
export interface Segment {
  readonly kind: PhaseKind
  readonly startS: number
  readonly endS: number
  readonly loadFrom: number
  readonly loadTo: number
  /** Share of rated flow the flow control lets through; 3 means wide open. */
  readonly flow: number
  /** The cylinder is locked off: its pressure is its own. */
  readonly locked: boolean
  /** Time constant of the valves that switch at its start. */
  readonly switchS: number
}

const WIDE_OPEN = 3

function draw(random: Random, [low, high]: Range): number {
  return low + (high - low) * random()
}

/**
 * The demand of one visit: stopped, started, cycles with idles between them, longer pauses, stopped.
 * Durations, loads and flows scatter from cycle to cycle; times fall on the fine grid.
 */
export function demand(duty: Duty, durationS: number, fineHz: number, random: Random): Segment[] {
  const segments: Segment[] = []
  let clock = 0
  // A log shorter than its stops is all stopped.
  const endStop = Math.min(draw(random, duty.stoppedS), durationS / 2)
  const put = (kind: PhaseKind, seconds: number, rest: Partial<Segment> = {}) => {
    const startS = clock
    const end = Math.min(startS + seconds, durationS)
    const endS = Math.round(end * fineHz) / fineHz
    if (endS <= startS) return
    const base = { loadFrom: 0, loadTo: 0, flow: 0, locked: false, switchS: draw(random, [0.02, 0.08]) }
    segments.push({ kind, startS, endS, ...base, ...rest })
    clock = endS
  }
  const idle = (seconds: number) => {
    const loadedS = duty.idleKind === 'idle-unloaded' ? (duty.unloadsAfterS ?? 0) : 0
    put('idle-loaded', Math.min(loadedS, seconds), { flow: 0.002 })
    put(duty.idleKind, seconds - loadedS, { flow: 0.002 })
  }
  const start = () => put('starting', draw(random, duty.startS))
  const cycle = () => {
    for (const step of duty.steps) {
      const seconds = draw(random, step.durationS) * Math.max(0.8, 1 + 0.03 * normal(random))
      if (step.kind === 'work-holding') {
        const load = step.lockedLoad ? draw(random, step.lockedLoad) : 1
        const locked = step.lockedLoad !== undefined
        put(step.kind, seconds, { loadFrom: load, loadTo: load, flow: draw(random, step.flow), locked })
      } else {
        const load = draw(random, step.load)
        const flow = step.kind === 'work-metering' ? draw(random, step.flow) : WIDE_OPEN
        put(step.kind, seconds, { loadFrom: load, loadTo: load * (1 + (step.rise ?? 0)), flow })
      }
    }
  }
  const first = Math.min(draw(random, duty.stoppedS), durationS / 2)
  put('stopped', first)
  if (first > 0) start()
  idle(draw(random, duty.idleS))
  while (clock < durationS - endStop) {
    if (duty.workless) {
      idle(durationS - endStop - clock)
      break
    }
    cycle()
    if (random() >= duty.pause.share) {
      idle(draw(random, duty.idleS))
      continue
    }
    const pauseS = draw(random, duty.pause.durationS)
    if (random() < duty.pause.stopShare) {
      put('stopped', pauseS)
      start()
      idle(draw(random, duty.idleS))
    } else idle(pauseS)
  }
  const cut = segments.filter((segment) => segment.startS < durationS - endStop)
  const last = cut[cut.length - 1]
  clock = Math.min(last.endS, Math.round((durationS - endStop) * fineHz) / fineHz)
  cut[cut.length - 1] = { ...last, endS: clock }
  segments.length = 0
  segments.push(...cut)
  put('stopped', durationS - clock)
  return segments
}
