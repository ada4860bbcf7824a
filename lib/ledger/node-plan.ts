import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'

/** Where each branch at the pump's outlet takes its flow from; `balance` is what the two others leave. */
export interface NodePlan {
  readonly pump: 'meter' | 'model' | 'balance'
  readonly system: 'meter' | 'nothing' | 'balance'
  /** Over the relief, or to tank while unloaded. With an open centre the line's meter reads what unloads. */
  readonly tank: 'return-meter' | 'line-meter' | 'leak' | 'relief-line' | 'balance'
  /** All three branches are told, so that they can contradict each other. */
  readonly isOverdetermined: boolean
}

/** What is read at the moment. */
export interface NodeReadings {
  readonly pumpPressurePa: number
  readonly pumpFlowM3S: number
  readonly systemFlowM3S: number
  readonly returnFlowM3S: number
  readonly speedRadS: number
}

const KIND_INDEX = Object.fromEntries(PHASE_KINDS.map((kind, k) => [kind, k])) as Record<PhaseKind, number>

/** All that a plan depends on, a bit each. */
const FIXED = 1
const OPEN_CENTRE = 2
const DEAD_HEAD_SEEN = 4
const PRESSURE = 8
const PUMP_FLOW = 16
const SYSTEM_FLOW = 32
const RETURN_FLOW = 64
const SPEED = 128
const UNSTEADY = 256
const VENTED = 512
const BITS = 1024

/**
 * The kind of phase leaves one way to tank open at most, so three branches remain: pump, system and tank. A branch
 * keeps what its meter reads. A relief that the kind shuts passes its leak and no more, as surely as if a meter said
 * so, though not while a valve moves (see isShutFor). Of the branches still unknown all but one are taken from what is
 * trusted most: that nothing flows into the system while dead-headed, then the pump's model, then the relief's line. The
 * last one closes the balance. While unloaded nothing flows into the system. The speed of a motor that runs up is not
 * known, nor is its pump's flow.
 */
function makePlan(kind: PhaseKind, bits: number): NodePlan {
  const has = (bit: number) => (bits & bit) !== 0
  const unloaded = kind === 'idle-unloaded'
  const deadHeaded = kind === 'idle-loaded' || kind === 'work-holding'
  let pump: NodePlan['pump'] = has(PUMP_FLOW) ? 'meter' : 'balance'
  let system: NodePlan['system'] = unloaded ? 'nothing' : has(SYSTEM_FLOW) ? 'meter' : 'balance'
  let tank: NodePlan['tank'] = 'balance'
  if (unloaded && has(OPEN_CENTRE)) tank = has(SYSTEM_FLOW) ? 'line-meter' : 'balance'
  else if (has(RETURN_FLOW)) tank = 'return-meter'
  else if (!unloaded && has(PRESSURE) && (kind === 'work-moving' ? isShutFor(has) : !has(FIXED)))
    tank = 'leak'
  // Nobody works a machine that is running up.
  if (kind === 'starting' && system === 'balance') system = 'nothing'
  const open = () => [pump, system, tank].filter((from) => from === 'balance').length
  const isOverdetermined = open() === 0
  // Without a stretch that is sure to be dead-headed, what looks like one may be metering.
  const isShut = deadHeaded && system === 'balance' && (has(DEAD_HEAD_SEEN) || tank !== 'balance')
  if (open() > 1 && isShut) system = 'nothing'
  if (open() > 1 && pump === 'balance' && (kind !== 'starting' || has(SPEED))) pump = 'model'
  if (open() > 1) tank = 'relief-line'
  return { pump, system, tank, isOverdetermined }
}

const plans: (NodePlan | undefined)[] = new Array(PHASE_KINDS.length * BITS)

/**
 * Whether a fixed pump's relief is taken for shut while the system takes all. While a valve moves a meter at the pump and
 * one in the line outrank that; where the valve may be one that vents the relief, the line's meter and the pump's model do.
 */
const isShutFor = (has: (bit: number) => boolean) =>
  !(has(FIXED) && has(UNSTEADY) && has(SYSTEM_FLOW) && (has(PUMP_FLOW) || has(VENTED)))

/**
 * The plan for a kind of phase and the readings that are there; made once for each set of them. `isSteady` is false while
 * valves move.
 */
export function nodePlan(
  kind: PhaseKind,
  read: NodeReadings,
  { isFixed, machine }: Pick<MachineModel, 'isFixed' | 'machine'>,
  { deadHeadSeen }: Pick<ReliefCurve, 'deadHeadSeen'>,
  isSteady = true,
): NodePlan {
  const bits =
    (isFixed ? FIXED : 0) |
    (machine.unloading.kind === 'open-centre' ? OPEN_CENTRE : 0) |
    (machine.unloading.kind === 'vented-relief' ? VENTED : 0) |
    (deadHeadSeen ? DEAD_HEAD_SEEN : 0) |
    (Number.isNaN(read.pumpPressurePa) ? 0 : PRESSURE) |
    (Number.isNaN(read.pumpFlowM3S) ? 0 : PUMP_FLOW) |
    (Number.isNaN(read.systemFlowM3S) ? 0 : SYSTEM_FLOW) |
    (Number.isNaN(read.returnFlowM3S) ? 0 : RETURN_FLOW) |
    (Number.isNaN(read.speedRadS) ? 0 : SPEED) |
    (isSteady ? 0 : UNSTEADY)
  const place = KIND_INDEX[kind] * BITS + bits
  plans[place] ??= makePlan(kind, bits)
  return plans[place]
}
