import type { PhaseKind } from '@/lib/contract/result'
import type { Step, Stretch, StretchMeans } from './stretch'

/** Mean readings side by side, a row each; NaN all through where the sensor is not fitted. */
export type MeanColumns = Readonly<Record<keyof StretchMeans, Float64Array>>

/**
 * Stretches side by side, a row each. A long recording has very many, and an object of so many numbers takes six times the
 * room. What stands for a row reads it here: never spread one, it has nothing of its own to copy.
 */
export interface StretchColumns extends MeanColumns {
  readonly from: Int32Array
  readonly to: Int32Array
  readonly durationS: Float64Array
  /** 1 where the stretch follows a gap. */
  readonly afterGap: Uint8Array
  readonly peakLoadPa: Float64Array
}

/** The mean readings in a row of the columns. */
class MeansRow<Of extends MeanColumns> implements StretchMeans {
  protected readonly of: Of
  protected readonly row: number

  constructor(of: Of, row: number) {
    this.of = of
    this.row = row
  }

  get pumpPressurePa() {
    return this.of.pumpPressurePa[this.row]
  }
  get loadPressurePa() {
    return this.of.loadPressurePa[this.row]
  }
  get pumpFlowM3S() {
    return this.of.pumpFlowM3S[this.row]
  }
  get systemFlowM3S() {
    return this.of.systemFlowM3S[this.row]
  }
  get returnFlowM3S() {
    return this.of.returnFlowM3S[this.row]
  }
  get caseDrainM3S() {
    return this.of.caseDrainM3S[this.row]
  }
  get currentA() {
    return this.of.currentA[this.row]
  }
  get powerW() {
    return this.of.powerW[this.row]
  }
  get voltageV() {
    return this.of.voltageV[this.row]
  }
  get speedRadS() {
    return this.of.speedRadS[this.row]
  }
  get pumpState() {
    return this.of.pumpState[this.row]
  }
  get cycleActive() {
    return this.of.cycleActive[this.row]
  }
  get idleSignal() {
    return this.of.idleSignal[this.row]
  }
  get solenoid() {
    return this.of.solenoid[this.row]
  }
}

/** A row of the columns: a stretch, and its own mean readings. */
class StretchRow extends MeansRow<StretchColumns> implements Stretch {
  get from() {
    return this.of.from[this.row]
  }
  get to() {
    return this.of.to[this.row]
  }
  get durationS() {
    return this.of.durationS[this.row]
  }
  get afterGap() {
    return this.of.afterGap[this.row] === 1
  }
  get peakLoadPa() {
    return this.of.peakLoadPa[this.row]
  }
  get means(): StretchMeans {
    return this
  }
}

/** The mean readings in a row. */
export const meansIn = (columns: MeanColumns, row: number): StretchMeans => new MeansRow(columns, row)

/** The stretches of the columns, in their order. */
export const stretchesOf = (columns: StretchColumns): Stretch[] =>
  Array.from(columns.from, (_, row) => new StretchRow(columns, row))

/** A stretch with its kind, and with the readings that count for it. */
class StepOf implements Step {
  readonly stretch: Stretch
  readonly kind: PhaseKind
  readonly means: StretchMeans

  constructor(stretch: Stretch, kind: PhaseKind, means: StretchMeans) {
    this.stretch = stretch
    this.kind = kind
    this.means = means
  }

  get from() {
    return this.stretch.from
  }
  get to() {
    return this.stretch.to
  }
  get durationS() {
    return this.stretch.durationS
  }
  get afterGap() {
    return this.stretch.afterGap
  }
  get peakLoadPa() {
    return this.stretch.peakLoadPa
  }
}

/**
 * The step that a stretch, or another step, is with this kind.
 * @param means readings that count for it instead of its own
 */
export const stepOf = (of: Stretch, kind: PhaseKind, means: StretchMeans = of.means): Step =>
  new StepOf(of instanceof StepOf ? of.stretch : of, kind, means)

/** Mean readings with some in the place of what was read. */
export const meansWith = (means: StretchMeans, some: Partial<StretchMeans>): StretchMeans => ({
  pumpPressurePa: means.pumpPressurePa,
  loadPressurePa: means.loadPressurePa,
  pumpFlowM3S: means.pumpFlowM3S,
  systemFlowM3S: means.systemFlowM3S,
  returnFlowM3S: means.returnFlowM3S,
  caseDrainM3S: means.caseDrainM3S,
  currentA: means.currentA,
  powerW: means.powerW,
  voltageV: means.voltageV,
  speedRadS: means.speedRadS,
  pumpState: means.pumpState,
  cycleActive: means.cycleActive,
  idleSignal: means.idleSignal,
  solenoid: means.solenoid,
  ...some,
})
