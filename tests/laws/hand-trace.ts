import type { Location, Quantity } from '@/lib/contract/machine'
import { normal, seededRandom } from '@/lib/numeric/random'
import { timeline } from '@/lib/samples/timeline'
import type { FullChannel, FullTrace } from '@/lib/samples/trace'
import { toSi, type Unit } from '@/lib/units'
import { handCurrentA, handFlowLpm, handInputKW, handShaftKW } from './hand-machine'

/** A stretch of a trace: what the oil does, for how long. Stopped where `off`. */
export interface Piece {
  readonly seconds: number
  readonly bar: number
  readonly loadBar?: number
  readonly systemLpm?: number
  /** Flow to tank, where it is not what the pump gives less what the system takes. */
  readonly returnLpm?: number
  readonly off?: boolean
  /** Input and current, where they are not those of the pump at that pressure. */
  readonly kW?: number
  readonly amps?: number
  readonly cycle?: 0 | 1
  readonly idle?: 0 | 1
  /** Seconds without samples before the stretch. */
  readonly gapBeforeS?: number
}

interface Meter {
  readonly quantity: Quantity
  readonly location: Location
  readonly unit: Unit
  readonly fullScale: number
  read(piece: Piece): number
}

const METERS = {
  pumpPressure: {
    quantity: 'pressure',
    location: 'pump-outlet',
    unit: 'bar',
    fullScale: 250,
    read: (piece) => piece.bar,
  },
  loadPressure: {
    quantity: 'pressure',
    location: 'load',
    unit: 'bar',
    fullScale: 250,
    read: (piece) => piece.loadBar ?? 0,
  },
  pumpFlow: {
    quantity: 'flow',
    location: 'pump-outlet',
    unit: 'L/min',
    fullScale: 100,
    read: (piece) => (piece.off ? 0 : handFlowLpm(piece.bar)),
  },
  systemFlow: {
    quantity: 'flow',
    location: 'system-line',
    unit: 'L/min',
    fullScale: 100,
    read: (piece) => piece.systemLpm ?? 0,
  },
  returnFlow: {
    quantity: 'flow',
    location: 'relief-return',
    unit: 'L/min',
    fullScale: 100,
    read: (piece) =>
      piece.returnLpm ?? (piece.off ? 0 : Math.max(0, handFlowLpm(piece.bar) - (piece.systemLpm ?? 0))),
  },
  power: {
    quantity: 'power',
    location: 'motor-supply',
    unit: 'kW',
    fullScale: 50,
    read: (piece) => piece.kW ?? (piece.off ? 0 : handInputKW(handShaftKW(piece.bar))),
  },
  current: {
    quantity: 'current',
    location: 'motor-supply',
    unit: 'A',
    fullScale: 100,
    read: (piece) => piece.amps ?? (piece.off ? 0 : handCurrentA(handShaftKW(piece.bar))),
  },
  cycle: {
    quantity: 'signal',
    location: 'cycle-active',
    unit: '1',
    fullScale: 0,
    read: (piece) => piece.cycle ?? 0,
  },
  idle: { quantity: 'signal', location: 'idle', unit: '1', fullScale: 0, read: (piece) => piece.idle ?? 0 },
} as const satisfies Record<string, Meter>

export type MeterName = keyof typeof METERS

export interface TraceHabits {
  /** Meters fitted beside the pump pressure. */
  readonly fitted: readonly MeterName[]
  readonly rateHz?: number
  /** Standard deviation of each meter's noise as a share of its full scale. */
  readonly noise?: number
  readonly seed?: number
  /** Constant offsets in the meters' units. */
  readonly offsets?: Partial<Record<MeterName, number>>
}

/** The samples that meters on the hand-worked machine would take over the pieces, in SI. */
export function handTrace(pieces: readonly Piece[], habits: TraceHabits): FullTrace {
  const { fitted, rateHz = 10, noise = 0, seed = 1, offsets = {} } = habits
  const times: number[] = []
  const which: Piece[] = []
  let gapS = 0
  for (const piece of pieces) {
    gapS += piece.gapBeforeS ?? 0
    const count = Math.round(piece.seconds * rateHz)
    for (let k = 0; k < count; k++) {
      times.push(which.length / rateHz + gapS)
      which.push(piece)
    }
  }
  const timeS = Float64Array.from(times)
  const random = seededRandom(seed)
  const channels = (['pumpPressure', ...fitted] as const).map((name): FullChannel => {
    const meter = METERS[name]
    return {
      column: name,
      quantity: meter.quantity,
      location: meter.location,
      unit: meter.unit,
      accuracy: null,
      values: Float64Array.from(which, (piece) => {
        const spread = noise > 0 ? noise * meter.fullScale * normal(random) : 0
        return toSi(meter.read(piece) + (offsets[name] ?? 0) + spread, meter.unit)
      }),
    }
  })
  return { timeS, ...timeline(timeS), channels, startedAtMs: null }
}

export const repeat = (pieces: readonly Piece[], times: number): Piece[] =>
  Array.from({ length: times }, () => pieces).flat()
