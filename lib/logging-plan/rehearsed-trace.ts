import type { Machine } from '@/lib/contract/machine'
import { machineModel } from '@/lib/machine/machine-model'
import { normal, seededRandom } from '@/lib/numeric/random'
import { timeline } from '@/lib/samples/timeline'
import type { Channel, Trace } from '@/lib/samples/trace'
import { siOf, type Unit } from '@/lib/units'
import { type DutyMix, MIXED_KINDS } from './duty-mix'
import { STOPPED, type State, statesOf } from './rehearsed-states'
import { sensorDataOf } from './sensor-data'
import { type StationId, stationOf } from './stations'

const CYCLES = 6
const CYCLE_S = 60
const INTERVAL_S = 0.5
/** Rest before and after, in which sensors show their zero. */
const REST_S = 10
/** Pieces shorter than this say nothing. */
const LEAST_PIECE_S = 2
/** Noise of a reading as a share of its range, 1 sd: without any, no two stretches would be like real ones. */
const NOISE_SHARE = 0.0005
const SEED = 20_260

interface Piece {
  readonly state: State
  readonly seconds: number
}

/** The pieces of one cycle, work first, as the machine's mix has them. */
function cycleOf(machine: Machine, mix: DutyMix): Piece[] {
  const model = machineModel(machine)
  return [...MIXED_KINDS].reverse().flatMap((kind) => {
    const seconds = mix.shares[kind] * CYCLE_S
    const states = seconds >= LEAST_PIECE_S ? statesOf(kind, model) : []
    return states.map((state) => ({ state, seconds: Math.max(LEAST_PIECE_S, seconds / states.length) }))
  })
}

const UNITS: Readonly<Record<string, Unit>> = {
  pressure: 'bar',
  flow: 'L/min',
  power: 'kW',
  current: 'A',
  voltage: 'V',
  speed: 'rpm',
  signal: '1',
}

/** A trace, and what the machine does at each of its samples. */
export interface RehearsedTrace {
  readonly trace: Trace
  readonly states: readonly State[]
}

const isWork = ({ kind }: State) => kind.startsWith('work')

/** What a station reads at an operating point, SI. */
function readingOf(id: StationId, state: State, machine: Machine): number {
  switch (id) {
    case 'pressure:pump-outlet':
      return state.pumpPressurePa
    case 'pressure:load':
      return state.loadPressurePa
    case 'pressure:tank-line':
      return 0
    case 'flow:pump-outlet':
      return state.pumpFlowM3S
    case 'flow:system-line':
      return state.systemFlowM3S
    case 'flow:relief-return':
      return state.returnFlowM3S
    case 'flow:case-drain':
      return state.caseDrainM3S
    case 'power:motor-supply':
      return state.powerW
    case 'current:motor-supply':
      return state.currentA
    case 'voltage:motor-supply':
      return machine.motor.ratedVoltageV
    case 'speed:motor-shaft':
      return state.speedRadS
    case 'signal:cycle-active':
      return isWork(state) ? 1 : 0
    case 'signal:idle':
      return state.kind.startsWith('idle') ? 1 : 0
    case 'signal:solenoid':
      return isWork(state) ? 1 : 0
  }
}

/**
 * A short visit to a machine that is as its plates say, with sensors at these stations: what the engine is asked with,
 * before anybody drives there. Readings have a little noise and no offset; the sensors' accuracies are declared.
 */
export function rehearsedTrace(
  machine: Machine,
  mix: DutyMix,
  stations: readonly StationId[],
  { withRest }: { readonly withRest: boolean },
): RehearsedTrace {
  const cycle = cycleOf(machine, mix)
  const rest: Piece[] = withRest ? [{ state: STOPPED, seconds: REST_S }] : []
  const pieces = [...rest, ...Array.from({ length: CYCLES }, () => cycle).flat(), ...rest]
  const states = pieces.flatMap(({ state, seconds }) =>
    Array.from({ length: Math.round(seconds / INTERVAL_S) }, () => state),
  )
  const timeS = Float64Array.from(states, (_, i) => i * INTERVAL_S)
  const random = seededRandom(SEED)
  const channels = stations.map((id): Channel => {
    const { quantity, location } = stationOf(id)
    const { range, accuracy } = sensorDataOf(id, machine)
    const unit = UNITS[quantity]
    const noise = range ? NOISE_SHARE * range.usual * siOf(range.unit).factor : 0
    const values = Float64Array.from(
      states,
      (state) => readingOf(id, state, machine) + noise * normal(random),
    )
    return { column: id, quantity, location, unit, accuracy, values }
  })
  return { trace: { timeS, channels, startedAtMs: null, ...timeline(timeS) }, states }
}
