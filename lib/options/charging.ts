import { pressureWithout } from '@/lib/machine/accumulator'
import type { MachineModel } from '@/lib/machine/machine-model'
import { scaledPump } from '@/lib/machine/pump'
import { PA_PER_BAR } from '@/lib/units'
import type { SupplyChange } from './change'
import { type Duty, dutyOfSupply } from './duty'
import { copyOf, type SupplyStep, supplyElectricJ, type WorkingStep } from './supply'
import { type PowerUnit, replacing, unitFlowM3S } from './unit'

/** An accumulator, the pump that charges it, and the pressures between which it does. SI units, gauge. */
export interface Charging {
  /** Charging pump over the present one, in displacement. */
  readonly pumpShare: number
  readonly lowPa: number
  readonly highPa: number
  readonly prechargePa: number
  readonly gasM3: number
  /** Oil between the two pressures. */
  readonly usableM3: number
  readonly exponent: number
}

/** Charging begins again when this share of the usable oil is gone: the rest is there for the next stroke. */
export const RELOAD_SHARE = 0.5
/** Pressure at which charging begins again, Pa. */
export const reloadPa = ({ usableM3, gasM3, prechargePa, highPa, exponent }: Charging) =>
  pressureWithout(RELOAD_SHARE * usableM3, gasM3, prechargePa, highPa, exponent)
/** A step is cut here after so many changes between charging and unloading: the rest goes on as it is. */
const MOST_SWITCHES = 1000
/** Charging at pressures nearer than this is one operating point, at their mean. */
const PRESSURE_BAND_PA = 0.25 * PA_PER_BAR
const SAME_S = 1e-9

/** Oil that a step asks for, m³/s. */
export const askedM3S = (step: SupplyStep) =>
  step.kind === 'work-moving' || step.kind === 'work-metering' || step.kind === 'work-holding'
    ? Math.max(0, step.systemM3S)
    : 0

/**
 * The most oil that is ever missing while a pump that gives `chargeM3S` runs whenever any is, m³: strokes
 * one after the other, in their order.
 */
export function deepestNeedM3(supply: readonly SupplyStep[], chargeM3S: number): number {
  let missing = 0
  let deepest = 0
  for (const step of supply) {
    const given = step.motorOn ? chargeM3S : 0
    missing = Math.max(0, missing + (askedM3S(step) - given) * step.durationS)
    deepest = Math.max(deepest, missing)
  }
  return deepest
}

/** How long a step is charged in, at what mean pressure. */
interface Charged {
  readonly loadedS: number
  readonly meanPa: number
}

/** The charge of an accumulator, followed through the log from full. */
class Charge {
  missingM3 = 0
  private loads = false
  private readonly of: Charging

  constructor(of: Charging) {
    this.of = of
  }

  private pressurePa(missingM3: number): number {
    const { gasM3, prechargePa, highPa, exponent } = this.of
    return pressureWithout(missingM3, gasM3, prechargePa, highPa, exponent)
  }

  /** A step with the motor off: what is asked for is missing, at most all there is. */
  rest(askedM3: number): void {
    this.missingM3 = Math.min(this.of.usableM3, this.missingM3 + askedM3)
  }

  /** A step of a given length: charging until full, unloaded until the reload share is gone, in turns. */
  run(durationS: number, askedM3S: number, unit: PowerUnit): Charged {
    const reloadM3 = RELOAD_SHARE * this.of.usableM3
    if (this.missingM3 >= reloadM3) this.loads = true
    // Nothing is asked for and nothing is missing enough: most of the log.
    if (!this.loads && askedM3S === 0) return { loadedS: 0, meanPa: Number.NaN }
    const atStart = this.missingM3
    let chargeM3S = Number.NaN
    let leftS = durationS
    let loadedS = 0
    let pressureS = 0
    for (let switches = 0; leftS > SAME_S; switches++) {
      // The flow is that of the step's first pressure; most steps never need it.
      if (this.loads && Number.isNaN(chargeM3S)) chargeM3S = unitFlowM3S(unit, this.pressurePa(atStart))
      const rate = this.loads ? askedM3S - chargeM3S : askedM3S
      const untilS = this.loads
        ? rate < 0
          ? this.missingM3 / -rate
          : Number.POSITIVE_INFINITY
        : rate > 0
          ? Math.max(0, reloadM3 - this.missingM3) / rate
          : Number.POSITIVE_INFINITY
      const forS = switches < MOST_SWITCHES ? Math.min(leftS, untilS) : leftS
      const before = this.missingM3
      this.missingM3 = Math.max(0, before + rate * forS)
      if (this.loads) {
        loadedS += forS
        pressureS += forS * this.pressurePa((before + this.missingM3) / 2)
      }
      leftS -= forS
      if (leftS > SAME_S || forS === untilS) this.loads = !this.loads
    }
    return { loadedS, meanPa: pressureS / loadedS }
  }
}

/** What serves each point of a duty with the charging pump in the place of the present one. */
function chargingUnits({ pumpShare }: Charging, duty: Duty, model: MachineModel): PowerUnit[] {
  const unitFor = replacing(model, (unit) => ({ ...unit, pump: scaledPump(unit.pump, pumpShare) }))
  return duty.points.map((point) => unitFor(point).after)
}

/** A piece of the duty with the pump of an accumulator at one pressure. */
type Served = (piece: number, unit: PowerUnit, pressurePa: number, durationS: number) => void

/**
 * The demand met from an accumulator that a smaller pump charges: its state followed through the log in
 * order, beginning full. Charging, the pump works against the accumulator's pressure; charged, it unloads.
 * @param units what serves each of the duty's points
 * @returns what charging the rest after the end of the log costs, J
 */
function follow(
  charging: Charging,
  duty: Duty,
  units: readonly PowerUnit[],
  model: MachineModel,
  serve: Served,
): number {
  const asked = duty.points.map(askedM3S)
  const unloadedPa = Math.min(model.unloadingPa, charging.highPa)
  const charge = new Charge(charging)
  let last: SupplyStep | null = null
  for (let k = 0; k < duty.pointOf.length; k++) {
    const point = duty.pointOf[k]
    const durationS = duty.durationS[k]
    if (!duty.points[point].motorOn) {
      charge.rest(asked[point] * durationS)
      continue
    }
    const { loadedS, meanPa } = charge.run(durationS, asked[point], units[point])
    if (loadedS > 0) {
      serve(k, units[point], meanPa, loadedS)
      last = onStore(duty.points[point], units[point], meanPa, loadedS)
    }
    if (durationS > loadedS) serve(k, units[point], unloadedPa, durationS - loadedS)
  }
  if (!(charge.missingM3 > 0) || !last?.unit) return 0
  const durationS = charge.missingM3 / unitFlowM3S(last.unit, last.pressurePa)
  const unloaded = { ...last, durationS, pressurePa: unloadedPa }
  return supplyElectricJ({ ...last, durationS }, model) - supplyElectricJ(unloaded, model)
}

const onStore = (step: SupplyStep, unit: PowerUnit, pressurePa: number, durationS: number): SupplyStep => ({
  ...copyOf(step),
  unit,
  pressurePa,
  durationS,
  reliefM3S: 0,
  stroke: 'store',
  speedRadS: null,
  extraJ: 0,
})

type Pieces = Pick<Duty, 'pointOf' | 'durationS' | 'stepOf'>

/** A duty whose pieces are worked out once they are asked for: a search for the best accumulator looks at points alone. */
class ChargedDuty implements Duty {
  readonly points: readonly SupplyStep[]
  private readonly make: () => Pieces
  private made: Pieces | null = null

  constructor(points: readonly SupplyStep[], make: () => Pieces) {
    this.points = points
    this.make = make
  }

  private get pieces(): Pieces {
    this.made ??= this.make()
    return this.made
  }
  get pointOf() {
    return this.pieces.pointOf
  }
  get durationS() {
    return this.pieces.durationS
  }
  get stepOf() {
    return this.pieces.stepOf
  }
}

/** The pump of an accumulator by the pressures that it works at: the demand it serves is in their time. */
function chargedDuty(charging: Charging, duty: Duty, model: MachineModel): Duty {
  const points: WorkingStep[] = []
  const units = chargingUnits(charging, duty, model)
  const known = new Map<PowerUnit, Map<number, number>>()
  const numberOf = (piece: number, unit: PowerUnit, pressurePa: number) => {
    const band = Math.round(pressurePa / PRESSURE_BAND_PA)
    const ofUnit = known.get(unit) ?? new Map<number, number>()
    known.set(unit, ofUnit)
    const number = ofUnit.get(band) ?? points.length
    if (number === points.length) {
      points.push({ ...onStore(duty.points[duty.pointOf[piece]], unit, pressurePa, 0) })
      ofUnit.set(band, number)
    }
    return number
  }
  let count = 0
  let lastNumber = 0
  let lastS = 0
  const restJ = follow(charging, duty, units, model, (piece, unit, pressurePa, durationS) => {
    const number = numberOf(piece, unit, pressurePa)
    const point = points[number]
    point.durationS += durationS
    point.pressurePa += ((pressurePa - point.pressurePa) * durationS) / point.durationS
    count++
    lastNumber = number
    lastS = durationS
  })
  if (restJ !== 0) {
    // What is charged after the end is the last piece's: a point of its own.
    const shared = points[lastNumber]
    shared.durationS -= lastS
    points.push({ ...shared, durationS: lastS, extraJ: restJ })
  }
  return new ChargedDuty(points, () => {
    const pointOf = new Int32Array(count)
    const lasts = new Float64Array(count)
    const stepOf = new Int32Array(count)
    let at = 0
    follow(charging, duty, units, model, (piece, unit, pressurePa, durationS) => {
      pointOf[at] = numberOf(piece, unit, pressurePa)
      lasts[at] = durationS
      stepOf[at++] = duty.stepOf[piece]
    })
    if (restJ !== 0) pointOf[count - 1] = points.length - 1
    return { pointOf, durationS: lasts, stepOf }
  })
}

/** The demand met from an accumulator. What is missing at the end of the log is charged after it, and counted. */
export function chargedBy(charging: Charging): SupplyChange {
  const change = (supply: readonly SupplyStep[], model: MachineModel) => {
    const out: WorkingStep[] = []
    const duty = dutyOfSupply(supply)
    const units = chargingUnits(charging, duty, model)
    const restJ = follow(charging, duty, units, model, (piece, unit, pressurePa, durationS) => {
      out.push({ ...onStore(supply[piece], unit, pressurePa, durationS) })
    })
    if (restJ !== 0) out[out.length - 1].extraJ += restJ
    return out
  }
  // Sets of options replay the same accumulator on the same duty, one after the other.
  let last: { duty: Duty; model: MachineModel; charged: Duty } | null = null
  const inOrder = (duty: Duty, model: MachineModel) => {
    if (last?.duty !== duty || last.model !== model) {
      last = { duty, model, charged: chargedDuty(charging, duty, model) }
    }
    return last.charged
  }
  return Object.assign(change, { parts: [{ inOrder }] })
}
