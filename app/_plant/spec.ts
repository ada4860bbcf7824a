import type { Accuracy, MotorNameplate, PumpNameplate, ReliefNameplate } from '@/lib/contract/machine'
import type { PhaseKind } from '@/lib/contract/result'
import type { Unit } from '@/lib/units'
import type { Duty } from './duty'
import type { Motor } from './make-motor'
import type { TruePump } from './make-pump'
import type { TrueRelief } from './make-relief'

/** What a fitted sensor can show. */
export type Signal =
  | 'pumpPressurePa'
  | 'loadPressurePa'
  | 'pumpFlowM3S'
  | 'systemFlowM3S'
  | 'reliefFlowM3S'
  | 'currentA'
  | 'powerW'
  | 'oilC'
  | 'cycleActive'

export interface Sensor {
  readonly signal: Signal
  readonly column: string
  readonly unit: Unit
  /** In the logged unit. The clamp or transmitter saturates here. */
  readonly fullScale: number
  /** 95 % limit of the constant offset of a log, in per cent of full scale. */
  readonly offsetPercent: number
  /** Standard deviation of the noise, in per cent of full scale. */
  readonly noisePercent: number
  readonly decimals: number
  /** What the machine file says of the sensor; null leaves the default. */
  readonly declared: Accuracy | null
  /** First-order lag of a slow meter, beyond what its kind has anyway. */
  readonly lagS?: number
  /** Drift over a log in per cent of full scale, where it is not the usual small one. */
  readonly driftPercent?: number
  /** While it is stuck it repeats the reading before. */
  readonly stuck?: { readonly startS: number; readonly endS: number }
}

/** A further pump on the motor's shaft, as it really is. */
export interface FurtherPump {
  readonly pump: TruePump
  readonly plate: PumpNameplate
  /** Pressure of a circuit of its own; null where it feeds the machine's line. */
  readonly outletBar: number | null
  /** Its flow goes to tank above this pressure of the line; null for a pump that always feeds. */
  readonly unloadsAboveBar: number | null
  /** Its unloading valve as it really is: where it opens, and where it lets the pump feed again; absent: as set, at a usual one. */
  readonly valve?: { readonly opensBar: number; readonly closesBar: number }
}

/** A further motor with its pump on the same line and the same meter. */
export interface FurtherSet {
  readonly motor: Motor
  readonly pump: TruePump
  readonly plate: PumpNameplate
}

/** A consumer behind the motor's meter, as it really is and as the machine file says. */
export interface PlantAuxiliary {
  readonly name: string
  readonly powerKW: number
  readonly powerFactor: number
  readonly when: 'always' | 'motor-running'
  readonly declaredKW: number
  readonly declaredPowerFactor: number
}

/** A machine as it really is, with the plates a person would copy from it. */
export interface MachineSpec {
  readonly name: string
  readonly motor: Motor
  readonly plates: {
    readonly motor: MotorNameplate
    readonly pump: PumpNameplate
    readonly relief: ReliefNameplate
  }
  readonly supplyV: number
  readonly starter: 'direct' | 'star-delta'
  readonly pump: TruePump
  readonly furtherPumps?: readonly FurtherPump[]
  readonly furtherSets?: readonly FurtherSet[]
  readonly auxiliaries?: readonly PlantAuxiliary[]
  readonly relief: TrueRelief
  readonly unloading: {
    readonly kind: 'none' | 'vented-relief' | 'open-centre'
    readonly pressureBar: number
  }
  readonly longestHoldS?: number
  readonly duty: Duty
  /** Oil temperature at the start of a log, where it settles, and how slowly. */
  readonly oil: { readonly startC: number; readonly settledC: number; readonly timeConstantS: number }
  readonly sensors: readonly Sensor[]
  /** First-order lag of the meters fitted, s, where it is not that of a usual one. */
  readonly meterLagS?: Readonly<Partial<Record<Signal, number>>>
}

/** One visit of the logger. */
export interface Visit {
  readonly seed: number
  readonly durationS: number
  readonly rateHz: number
  /** Internal steps per second; a multiple of `rateHz`. Default 100. */
  readonly fineHz?: number
  /** Stretches without rows, in seconds from the start. */
  readonly gaps?: ReadonlyArray<{ readonly startS: number; readonly endS: number }>
  /** Share of cells lost, and of cells that show a spike. */
  readonly lostShare?: number
  readonly spikeShare?: number
  /** Share of cells below zero: a loop of 4–20 mA that broke for a moment. */
  readonly dropShare?: number
  /** Elapsed seconds from which a change of the supply is in force: somebody turned a screw while it was logged. */
  readonly changedFromS?: number
  /** Where the same sensors stay fitted from visit to visit: their offsets are drawn from this instead of `seed`. */
  readonly sensorSeed?: number
}

export interface TruthPhase {
  readonly kind: PhaseKind
  readonly startS: number
  readonly endS: number
}

/** What the supply is changed to; same demand, simulated again. */
export type Change =
  | { readonly id: 'vent-relief-at-idle'; readonly ventBar: number; readonly delayS: number }
  | { readonly id: 'second-relief-setting'; readonly lowSettingBar: number; readonly marginBar: number }
  | { readonly id: 'lower-relief-setting'; readonly settingBar: number }
  | { readonly id: 'stop-motor-at-idle'; readonly waitS: number }
  | { readonly id: 'pressure-compensated-pump'; readonly compensatorBar: number }
  | { readonly id: 'load-sensing-pump'; readonly marginBar: number }
  | { readonly id: 'variable-speed-drive'; readonly minimumSpeedShare: number }
  | { readonly id: 'smaller-pump'; readonly pumpShare: number }
  | { readonly id: 'high-low-pumps'; readonly smallShare: number; readonly unloadBar: number }
  | {
      readonly id: 'accumulator-charging'
      readonly pumpShare: number
      readonly lowBar: number
      readonly highBar: number
      readonly gasLitres: number
    }
  | { readonly id: 'restore-pump' }
  | { readonly id: 'replace-relief-valve'; readonly crackRatio: number }
  | { readonly id: 'efficient-motor'; readonly ratedEfficiency: number }
