import { phaseKinds, streams } from '@/app/_words/en/names'
import type { PhaseKind, Stream } from '@/lib/contract/result'

/** A destination of energy as it is drawn and named everywhere. */
export interface Destination {
  readonly label: string
  /** What it is, in one sentence of the trade. */
  readonly meaning: string
  readonly colour: string
  /** The same on a dark page. */
  readonly dark: string
  readonly token: string
}

export type DestinationKey = Stream | 'idle'

/**
 * One colour per destination of energy. Neighbours in the stack alternate dark and light, so that they stay
 * apart in grey print; hues stay apart for red-green-blind readers (tests/app/ui/streams.test.ts holds both).
 */
export const DESTINATIONS: Readonly<Record<DestinationKey, Destination>> = {
  motorLoss: {
    label: streams.motorLoss,
    meaning: 'Electric input that does not reach the shaft.',
    colour: '#27397d',
    dark: '#6770c9',
    token: '--stream-motor-loss',
  },
  pumpLoss: {
    label: streams.pumpLoss,
    meaning: 'Shaft power lost in the pump to leakage and friction.',
    colour: '#81c8ec',
    dark: '#8fceff',
    token: '--stream-pump-loss',
  },
  overRelief: {
    label: streams.overRelief,
    meaning: 'Oil that returns to tank through the relief valve at its setting.',
    colour: '#c8481b',
    dark: '#c56328',
    token: '--stream-over-relief',
  },
  unloading: {
    label: streams.unloading,
    meaning: 'The whole pump flow returned to tank at low pressure.',
    colour: '#f9c89e',
    dark: '#ffdaa4',
    token: '--stream-unloading',
  },
  metering: {
    label: streams.metering,
    meaning: 'Pressure dropped across valves, flow controls and lines on the way to the load.',
    colour: '#ce9407',
    dark: '#e39b29',
    token: '--stream-metering',
  },
  work: {
    label: streams.work,
    meaning: 'What the load needed.',
    colour: '#006b45',
    dark: '#137f53',
    token: '--stream-work',
  },
  intoSystem: {
    label: streams.intoSystem,
    meaning: 'Metering and work together.',
    colour: '#669792',
    dark: '#92aaa6',
    token: '--stream-into-system',
  },
  unaccounted: {
    label: streams.unaccounted,
    meaning: 'What the sensors contradict; shown by itself and never spread over the others.',
    colour: '#b4ccbf',
    dark: '#d1eadc',
    token: '--stream-unaccounted',
  },
  idle: {
    label: 'Idle',
    meaning: 'All electric input while no actuator moves.',
    colour: '#722858',
    dark: '#96619a',
    token: '--stream-idle',
  },
}

/** Parts of the account from the meter to the load, in the order they are stacked. */
export const STACK: readonly Stream[] = [
  'motorLoss',
  'pumpLoss',
  'overRelief',
  'unloading',
  'metering',
  'work',
  'unaccounted',
]

/** The same where metering and work cannot be told apart. */
export const STACK_JOINED: readonly Stream[] = [
  'motorLoss',
  'pumpLoss',
  'overRelief',
  'unloading',
  'intoSystem',
  'unaccounted',
]

/** A destination by its key in results; what is not known as one as it is. */
export const destinationWords = (key: string): string =>
  key in DESTINATIONS ? DESTINATIONS[key as DestinationKey].label : key

export const METER_SHARES = ['idle', 'overRelief', 'metering', 'work', 'unaccounted'] as const

export interface PhaseLook {
  readonly label: string
  readonly meaning: string
  readonly token: string
}

export const PHASES: Readonly<Record<PhaseKind, PhaseLook>> = {
  stopped: { label: phaseKinds.stopped, meaning: 'Motor not turning.', token: '--phase-stopped' },
  starting: {
    label: phaseKinds.starting,
    meaning: 'Inrush until the motor settles.',
    token: '--phase-starting',
  },
  'idle-unloaded': {
    label: phaseKinds['idle-unloaded'],
    meaning: 'Whole flow to tank at low pressure.',
    token: '--phase-idle-unloaded',
  },
  'idle-loaded': {
    label: phaseKinds['idle-loaded'],
    meaning: 'No actuator moves; whole flow over the relief, or a compensated pump at standby.',
    token: '--phase-idle-loaded',
  },
  'work-moving': {
    label: phaseKinds['work-moving'],
    meaning: 'An actuator takes (nearly) all the flow.',
    token: '--phase-work-moving',
  },
  'work-metering': {
    label: phaseKinds['work-metering'],
    meaning: 'An actuator takes part of the flow, the rest passes the relief.',
    token: '--phase-work-metering',
  },
  'work-holding': {
    label: phaseKinds['work-holding'],
    meaning: 'Pressure held inside a cycle with (nearly) no flow.',
    token: '--phase-work-holding',
  },
}
