import { type ReliefCurve, reliefSlope } from '@/lib/machine/relief'
import type { SupplyChange } from './change'
import type { Replayer } from './option'
import type { SupplyStep, WorkingStep } from './supply'

/** What is taken of the way to the actuator beyond what the log shows. */
export interface Ways {
  /** Pressure drop over flow squared with every valve wide open, Pa per (m³/s)². */
  readonly dropPerFlow2: number
  /** A throttle keeps its opening; a flow control that gets less than it asks for is wide open. */
  readonly keepsOpening: boolean
  /** Where no sensor tells, the load of a metering step as a share of the pump's pressure. */
  readonly loadShare: number
}

/** Drop of valves and lines at the pump's rated flow where no stroke shows it, as a share of the relief's setting (common practice, no source). */
const LINE_DROP_SHARE = 0.04
/** A load that nobody measured lies anywhere below the pump's pressure: the middle, and what four in five lie between. */
const UNKNOWN_LOAD = { low: 0.1, middle: 0.5, high: 0.9 } as const
const ROUNDS = 24

const known = new WeakMap<readonly SupplyStep[], { readonly relief: ReliefCurve; readonly ways: Ways }>()

/** What strokes with a load pressure show of the way to the actuator: the middle of their drops, weighted by time. */
export function waysOf(supply: readonly SupplyStep[], relief: ReliefCurve): Ways {
  // Most options ask for those of the one logged supply.
  const before = known.get(supply)
  if (before?.relief === relief) return before.ways
  const ways = seenWays(supply, relief)
  known.set(supply, { relief, ways })
  return ways
}

function seenWays(supply: readonly SupplyStep[], relief: ReliefCurve): Ways {
  const drops = new Float64Array(supply.length)
  const seen: number[] = []
  let leftS = 0
  for (let k = 0; k < supply.length; k++) {
    const { kind, pressurePa, loadPa, systemM3S } = supply[k]
    drops[k] = (pressurePa - loadPa) / systemM3S ** 2
    if (kind === 'work-moving' && systemM3S > 0 && drops[k] > 0) seen.push(k)
  }
  const byDrop = Int32Array.from(seen).sort((a, b) => drops[a] - drops[b])
  for (const k of byDrop) leftS += supply[k].durationS
  leftS /= 2
  const middle = byDrop.find((k) => {
    leftS -= supply[k].durationS
    return leftS <= 0
  })
  const usual = (LINE_DROP_SHARE * relief.settingPa) / relief.ratedFlowM3S ** 2
  return {
    dropPerFlow2: middle === undefined ? usual : drops[middle],
    keepsOpening: false,
    loadShare: UNKNOWN_LOAD.middle,
  }
}

/** What the way to a step's actuator asks for: flow, the load behind it, and its drop over flow squared. */
function wayOf(step: SupplyStep, ways: Ways) {
  const { kind, pressurePa, systemM3S } = step
  const meters = kind === 'work-metering'
  const usualPa = meters
    ? ways.loadShare * pressurePa
    : pressurePa - Math.min(ways.dropPerFlow2 * systemM3S ** 2, pressurePa)
  const loadPa = Math.min(Number.isNaN(step.loadPa) ? usualPa : step.loadPa, pressurePa)
  const own = (pressurePa - loadPa) / systemM3S ** 2
  // A stroke shows the drop of its own way; of a metering one only part of the drop is the valve's.
  const dropPerFlow2 = meters && !ways.keepsOpening ? Math.min(ways.dropPerFlow2, own) : own
  return { loadPa, dropPerFlow2 }
}

/** The least pressure at which a step gets all its flow, Pa. */
export function asksPa(step: SupplyStep, ways: Ways): number {
  const { loadPa, dropPerFlow2 } = wayOf(step, ways)
  return loadPa + dropPerFlow2 * step.systemM3S ** 2
}

/**
 * A working step that gets less than it takes: the pressure falls until pump, relief and the way to the actuator
 * agree, and the same volume takes longer.
 * @param giveM3S what the pump gives at a pressure
 * @param reliefM3S what the relief passes at one
 * @returns pressure and flow to the actuator
 */
export function starvedAt(
  step: SupplyStep,
  giveM3S: (pressurePa: number) => number,
  reliefM3S: (pressurePa: number) => number,
  ways: Ways,
): { readonly pressurePa: number; readonly systemM3S: number; readonly reliefM3S: number } {
  const { loadPa, dropPerFlow2 } = wayOf(step, ways)
  const takes = (pressurePa: number) => {
    const open =
      dropPerFlow2 > 0 ? Math.sqrt(Math.max(0, pressurePa - loadPa) / dropPerFlow2) : step.systemM3S
    return Math.min(step.systemM3S, open)
  }
  let low = Math.max(0, loadPa)
  let high = step.pressurePa
  for (let round = 0; round < ROUNDS; round++) {
    const middle = (low + high) / 2
    if (giveM3S(middle) - reliefM3S(middle) > takes(middle)) low = middle
    else high = middle
  }
  const passes = reliefM3S(high)
  return { pressurePa: high, systemM3S: Math.max(0, giveM3S(high) - passes), reliefM3S: passes }
}

/** What a relief passes near a logged point of its line. */
export const reliefNear = (step: WorkingStep, relief: ReliefCurve) => {
  const { pressurePa } = step
  const open = Math.max(0, step.reliefM3S)
  const slope = reliefSlope(relief)
  return (atPa: number) => Math.max(0, open + (atPa - pressurePa) / slope)
}

/** Standard deviation of a saved share for what is not known of the ways: valves of either kind, any load. */
export function waysDoubt(replayer: Replayer, ways: Ways, changeWith: (ways: Ways) => SupplyChange): number {
  const usualJ = replayer.with(changeWith(ways)).electricJ
  const others = [
    { ...ways, keepsOpening: true, loadShare: UNKNOWN_LOAD.high },
    { ...ways, loadShare: UNKNOWN_LOAD.low },
  ]
  const furthestJ = Math.max(
    ...others.map((other) => Math.abs(replayer.with(changeWith(other)).electricJ - usualJ)),
  )
  return replayer.electricJ > 0 ? furthestJ / 2 / replayer.electricJ : 0
}
