import type { Step } from '@/lib/phases/stretch'
import { readerOf, type Samples } from '@/lib/samples/samples'
import { type LogOrder, NO_ORDER, type OrderColumns, orderColumns, setOrder } from './order'
import { type SupplyStep, suppliedStep, type Under } from './supply'
import type { PowerUnit } from './unit'

/**
 * What the supply did in the steps of a log, side by side: a long recording has very many, and an object of so many numbers
 * takes four times the room. What stands for a step reads it here: it has nothing of its own to spread (`copyOf`).
 */
interface SupplyColumns extends OrderColumns {
  readonly steps: readonly Step[]
  readonly startS: Float64Array
  readonly systemM3S: Float64Array
  readonly loadPa: Float64Array
  readonly peakLoadPa: Float64Array
  readonly pressurePa: Float64Array
  readonly reliefM3S: Float64Array
  readonly stroke: SupplyStep['stroke']
  /** NaN on the mains; null where all steps are. */
  readonly speedRadS: Float64Array | null
  /** Null where all steps have the machine's own. */
  readonly units: (PowerUnit | null)[] | null
}

/** A step of the log with its place in it. */
class LoggedStep implements SupplyStep, LogOrder {
  readonly step: number
  private readonly of: SupplyColumns

  constructor(of: SupplyColumns, step: number) {
    this.step = step
    this.of = of
  }

  get kind() {
    return this.of.steps[this.step].kind
  }
  get startS() {
    return this.of.startS[this.step]
  }
  get durationS() {
    return this.of.steps[this.step].durationS
  }
  get systemM3S() {
    return this.of.systemM3S[this.step]
  }
  get loadPa() {
    return this.of.loadPa[this.step]
  }
  get peakLoadPa() {
    return this.of.peakLoadPa[this.step]
  }
  get pressurePa() {
    return this.of.pressurePa[this.step]
  }
  get loggedPa() {
    return this.of.pressurePa[this.step]
  }
  get reliefM3S() {
    return this.of.reliefM3S[this.step]
  }
  get stroke() {
    return this.of.stroke
  }
  get speedRadS() {
    const speedRadS = this.of.speedRadS?.[this.step] ?? Number.NaN
    return Number.isNaN(speedRadS) ? null : speedRadS
  }
  get unit() {
    return this.of.units?.[this.step] ?? null
  }
  get motorOn() {
    const { kind } = this
    return kind !== 'stopped' && kind !== 'starting'
  }
  get extraJ() {
    return 0
  }
  get order(): LogOrder {
    return this
  }
  get moreNeedPa() {
    return this.of.moreNeedPa[this.step]
  }
  get idleAgeS() {
    return this.of.idleAgeS[this.step]
  }
  get loadedAgeS() {
    return this.of.loadedAgeS[this.step]
  }
  get idleS() {
    return this.of.idleS[this.step]
  }
  get idleEnds() {
    return this.of.idleEnds[this.step]
  }
}

/** The supply as the log shows it, step by step. */
export function loggedSupply(steps: readonly Step[], timeS: Samples, under: Under): readonly SupplyStep[] {
  const { isFixed, drive, pump } = under.model
  const column = () => new Float64Array(steps.length)
  const columns = {
    steps,
    startS: column(),
    systemM3S: column(),
    loadPa: column(),
    peakLoadPa: column(),
    pressurePa: column(),
    reliefM3S: column(),
    stroke: isFixed ? ('full' as const) : ('part' as const),
    speedRadS: drive ? column() : null,
    units: pump.latch ? new Array<PowerUnit | null>(steps.length) : null,
    ...orderColumns(steps.length),
  }
  const startS = readerOf(timeS)
  for (let k = 0; k < steps.length; k++) {
    const step = suppliedStep(steps[k], k, startS.at(steps[k].from), NO_ORDER, under)
    columns.startS[k] = step.startS
    columns.systemM3S[k] = step.systemM3S
    columns.loadPa[k] = step.loadPa
    columns.peakLoadPa[k] = step.peakLoadPa
    columns.pressurePa[k] = step.pressurePa
    columns.reliefM3S[k] = step.reliefM3S
    if (columns.speedRadS) columns.speedRadS[k] = step.speedRadS ?? Number.NaN
    if (columns.units) columns.units[k] = step.unit
  }
  const supply = Array.from(steps, (_, k) => new LoggedStep(columns, k))
  setOrder(supply, columns, pump.ratedFlowM3S)
  return supply
}
