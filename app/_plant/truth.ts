import { J_PER_KWH } from '@/lib/units'
import type { PowerUnit } from './power-unit'
import type { Run } from './programme'
import type { TruthPhase } from './spec'

/** The account that really happened over the logged time, kWh. */
export interface TruthLedger {
  readonly electricIn: number
  readonly motorLoss: number
  readonly pumpLoss: number
  readonly overRelief: number
  readonly unloading: number
  readonly metering: number
  readonly work: number
  readonly intoSystem: number
  /** p·Q of the pump. */
  readonly hydraulic: number
  readonly idleElectric: number
}

/** Energies beside the account, kWh. */
export interface BesideAccount {
  /** Into circuits of their own: a part of `metering`. */
  readonly ownCircuits: number
  /** Auxiliaries behind the meter: not a part of `electricIn`. */
  readonly auxiliaries: number
}

export interface Bookkeeper {
  book(unit: PowerUnit, run: Run, runAt: number, stepS: number): void
  /** Auxiliaries run while the motors stand, too. */
  bookAuxiliaries(powerW: number, stepS: number): void
  ledger(): TruthLedger
  beside(): BesideAccount
  /** Share of the pumped volume that passed the relief in a run. */
  reliefShare(runAt: number): number
  /** Oil that the actuators took in a run, m³. */
  movedM3(runAt: number): number
  /** Electric input in a run. */
  inputJ(runAt: number): number
}

/** Sums energy by destination at fine steps. */
export function createBookkeeper(runs: number): Bookkeeper {
  const sum = {
    input: 0,
    motor: 0,
    pump: 0,
    relief: 0,
    unloading: 0,
    metering: 0,
    work: 0,
    hydraulic: 0,
    idle: 0,
    ownCircuits: 0,
    auxiliaries: 0,
  }
  const pumped = new Float64Array(runs)
  const relieved = new Float64Array(runs)
  const moved = new Float64Array(runs)
  const input = new Float64Array(runs)
  return {
    book({ motors, flows, valves }, run, runAt, stepS) {
      const p = flows.pressurePa
      const unloads = run.kind === 'idle-unloaded'
      const systemM3S = flows.actuatorM3S + (unloads ? 0 : flows.centreM3S)
      const pastM3S = flows.reliefM3S + (unloads ? flows.centreM3S : 0)
      const workW = Math.min(valves.loadPa, p) * flows.actuatorM3S
      sum.input += motors.inputW * stepS
      sum.motor += motors.motorLossW * stepS
      sum.pump += motors.pumpLossW * stepS
      sum.hydraulic += (p * flows.pumpM3S + motors.unloadedW + motors.ownCircuitW) * stepS
      sum.ownCircuits += motors.ownCircuitW * stepS
      sum.unloading += motors.unloadedW * stepS
      if (unloads) sum.unloading += p * pastM3S * stepS
      else sum.relief += p * pastM3S * stepS
      sum.metering += (p * systemM3S - workW + motors.ownCircuitW) * stepS
      sum.work += workW * stepS
      if (unloads || run.kind === 'idle-loaded') sum.idle += motors.inputW * stepS
      pumped[runAt] += flows.pumpM3S * stepS
      relieved[runAt] += flows.reliefM3S * stepS
      moved[runAt] += flows.actuatorM3S * stepS
      input[runAt] += motors.inputW * stepS
    },
    bookAuxiliaries(powerW, stepS) {
      sum.auxiliaries += powerW * stepS
    },
    ledger: () => ({
      electricIn: sum.input / J_PER_KWH,
      motorLoss: sum.motor / J_PER_KWH,
      pumpLoss: sum.pump / J_PER_KWH,
      overRelief: sum.relief / J_PER_KWH,
      unloading: sum.unloading / J_PER_KWH,
      metering: sum.metering / J_PER_KWH,
      work: sum.work / J_PER_KWH,
      intoSystem: (sum.metering + sum.work) / J_PER_KWH,
      hydraulic: sum.hydraulic / J_PER_KWH,
      idleElectric: sum.idle / J_PER_KWH,
    }),
    beside: () => ({
      ownCircuits: sum.ownCircuits / J_PER_KWH,
      auxiliaries: sum.auxiliaries / J_PER_KWH,
    }),
    reliefShare: (runAt) => (pumped[runAt] > 0 ? relieved[runAt] / pumped[runAt] : 0),
    movedM3: (runAt) => moved[runAt],
    inputJ: (runAt) => input[runAt],
  }
}

/** Above this share over the relief a moving step takes only part of the flow. */
const NEARLY_ALL = 0.05

/**
 * The phases as they were: a wide-open step that pushes oil over the relief is metering, a metered one
 * that takes all there is, is moving. Equal neighbours are joined, gaps in the log cut out.
 */
export function truthPhases(
  runs: readonly Run[],
  book: Bookkeeper,
  gaps: ReadonlyArray<{ readonly startS: number; readonly endS: number }>,
): TruthPhase[] {
  const phases: TruthPhase[] = []
  runs.forEach((run, runAt) => {
    const takes = run.kind === 'work-moving' || run.kind === 'work-metering'
    const moves = book.reliefShare(runAt) < NEARLY_ALL ? 'work-moving' : 'work-metering'
    const kind = takes ? moves : run.kind
    let startS = run.startS
    for (const gap of [...gaps, { startS: run.endS, endS: run.endS }]) {
      if (gap.endS <= startS || gap.startS > run.endS) continue
      const endS = Math.min(gap.startS, run.endS)
      const last = phases.at(-1)
      if (endS > startS) {
        if (last && last.kind === kind && last.endS === startS) phases[phases.length - 1] = { ...last, endS }
        else phases.push({ kind, startS, endS })
      }
      startS = Math.max(startS, gap.endS)
      if (startS >= run.endS) break
    }
  })
  return phases
}
