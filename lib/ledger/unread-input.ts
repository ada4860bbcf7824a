import type { Problem } from '@/lib/contract/result'
import { inPumpState, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { type Step, type StretchMeans, sumsOf } from '@/lib/phases/stretch'
import { meansWith, stepOf } from '@/lib/phases/stretch-columns'
import type { Samples } from '@/lib/samples/samples'
import type { Sensors } from '@/lib/samples/sensors'
import { ACCOUNT_KEYS } from './account-series'
import { nodeFlows } from './operating-point'
import { COVERAGE, type Doubt } from './propagate'
import { kindIndex, TOTALS_LENGTH } from './totals'

/** Steps with an input each. */
export interface StepsWithInput {
  readonly steps: readonly Step[]
  /** Of every step whose input no reading and no model tells: how much that of steps of its kind spreads, as a share (1 sd). */
  readonly spreadOf: ReadonlyMap<number, number>
}

/** Phases of a kind differ by this share at least, few as there may be to show it (1 sd; common practice, no source). */
const LEAST_SPREAD = 0.05

/** Mean and spread of a reading over steps of a kind, by time, null: of all running ones; nil seconds where none has it. */
function meanOver(steps: readonly Step[], name: 'powerW' | 'currentA', kind: Step['kind'] | null) {
  let [seconds, sum, squares] = [0, 0, 0]
  for (const step of steps) {
    const value = step.means[name]
    if (Number.isNaN(value) || (kind === null ? isOff(step) : step.kind !== kind)) continue
    seconds += step.durationS
    sum += value * step.durationS
    squares += value ** 2 * step.durationS
  }
  const mean = sum / seconds
  return {
    seconds,
    mean,
    spread: Math.max(LEAST_SPREAD, Math.sqrt(Math.max(0, squares / seconds - mean ** 2)) / Math.abs(mean)),
  }
}

const isOff = ({ kind }: Step) => kind === 'stopped' || kind === 'starting'

/** Whether neither a reading nor the pump's model tells the input of a running step. */
function isUnread(step: Step, model: MachineModel): boolean {
  const { kind, means } = step
  if (isOff(step) || !Number.isNaN(means.powerW) || !Number.isNaN(means.currentA)) return false
  const { pump } = nodeFlows(means, kind, model, model.relief, means.pumpPressurePa)
  const flow = model.isFixed || kind === 'idle-unloaded' ? null : pump
  return Number.isNaN(
    pumpShaftW(inPumpState(model, means.pumpState), means.pumpPressurePa, flow, means.speedRadS),
  )
}

/**
 * The steps with an input each. A mean power that was left out as too rough to tell a stop is what the samples show: added
 * up over steps, a slow meter's readings are the input. Where neither power nor current was read and no model tells, as
 * with a pump at part stroke whose flow no meter reads, the input is that of the other steps of the kind, else of all
 * running ones.
 */
export function stepsWithInput(
  steps: readonly Step[],
  { power, current }: Sensors,
  model: MachineModel,
  holdS: Samples,
): StepsWithInput {
  const read = steps.map((step): Step => {
    const { from, to, means } = step
    if (!power || !Number.isNaN(means.powerW) || step.kind === 'stopped') return step
    const { valueS, seconds } = sumsOf(power.values, holdS, [from], to)
    return seconds[0] > 0 ? withMeans(step, { powerW: valueS[0] / seconds[0] }) : step
  })
  const spreadOf = new Map<number, number>()
  const name = power ? 'powerW' : current ? 'currentA' : null
  if (!name) return { steps: read, spreadOf }
  const known = new Map<Step['kind'] | null, ReturnType<typeof meanOver>>()
  const meanOf = (kind: Step['kind'] | null) => {
    const mean = known.get(kind) ?? meanOver(read, name, kind)
    known.set(kind, mean)
    return mean
  }
  const ofKind = (kind: Step['kind']) => (meanOf(kind).seconds > 0 ? meanOf(kind) : meanOf(null))
  const all = read.map((step, k): Step => {
    if (!isUnread(step, model)) return step
    const { seconds, mean, spread } = ofKind(step.kind)
    if (seconds === 0) return step
    spreadOf.set(k, spread)
    return withMeans(step, { [name]: mean })
  })
  return { steps: all, spreadOf }
}

const withMeans = (step: Step, some: Partial<StretchMeans>): Step =>
  stepOf(step, step.kind, meansWith(step.means, some))

/** What the totals would be more, or less, if the input of unread steps lay as far off as that of their kind does. */
export function unreadDoubts({ steps, spreadOf }: StepsWithInput, energiesJ: Float64Array): Doubt[] {
  if (spreadOf.size === 0) return []
  const more = new Float64Array(TOTALS_LENGTH)
  for (const [k, spread] of spreadOf) {
    const { kind } = steps[k]
    const energyJ = (key: (typeof ACCOUNT_KEYS)[number]) =>
      energiesJ[k * ACCOUNT_KEYS.length + ACCOUNT_KEYS.indexOf(key)]
    const inputJ = COVERAGE * spread * energyJ('electricIn')
    const motorJ = COVERAGE * spread * energyJ('motorLoss')
    more[kindIndex(kind, 'electricIn')] += inputJ
    more[kindIndex(kind, 'motorLoss')] += motorJ
    more[kindIndex(kind, 'pumpLoss')] += inputJ - motorJ
  }
  return [more, more.map((value) => -value)].map((change) => ({ source: 'unread-input', change }))
}

/** Says for how long the input was taken from other steps. */
export function unreadProblems({ steps, spreadOf }: StepsWithInput, column: string | null): Problem[] {
  let [count, seconds] = [0, 0]
  for (const k of spreadOf.keys()) {
    count += steps[k].to - steps[k].from
    seconds += steps[k].durationS
  }
  return count > 0 ? [{ code: 'input-from-alike', line: null, column, count, values: { seconds } }] : []
}
