import { pressureWithout } from '@/lib/machine/accumulator'
import { scaledPump } from '@/lib/machine/pump'
import { type SupplyChange, type SupplyStep, supplyElectricJ } from './supply'
import { replacing, unitFlowM3S } from './unit'

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
/** A step is cut here after so many changes between charging and unloading: the rest goes on as it is. */
const MOST_SWITCHES = 1000

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

/**
 * The demand met from an accumulator that a smaller pump charges: its state followed through the log in
 * order, beginning full. Charging, the pump works against the accumulator's pressure; charged, it unloads. What
 * is missing at the end is charged after it, and counted.
 */
export function chargedBy(charging: Charging): SupplyChange {
  const { usableM3, highPa, gasM3, prechargePa, exponent } = charging
  return (supply, model) => {
    const units = replacing(model, (unit) => ({
      ...unit,
      pump: scaledPump(unit.pump, charging.pumpShare),
    }))
    const out: SupplyStep[] = []
    let missing = 0
    let loads = false
    let last: SupplyStep | null = null
    for (const step of supply) {
      if (!step.motorOn) {
        missing = Math.min(usableM3, missing + askedM3S(step) * step.durationS)
        out.push(step)
        continue
      }
      const unit = units(step).after
      const asked = askedM3S(step)
      const meanPa = pressureWithout(missing, gasM3, prechargePa, highPa, exponent)
      const charge = unitFlowM3S(unit, meanPa)
      const base: SupplyStep = { ...step, unit, reliefM3S: 0, stroke: 'full', speedRadS: null, extraJ: 0 }
      if (missing >= RELOAD_SHARE * usableM3) loads = true
      let leftS = step.durationS
      let loadedS = 0
      let pressureS = 0
      for (let switches = 0; leftS > 1e-9; switches++) {
        const rate = loads ? asked - charge : asked
        const untilS = loads
          ? rate < 0
            ? missing / -rate
            : Number.POSITIVE_INFINITY
          : rate > 0
            ? Math.max(0, RELOAD_SHARE * usableM3 - missing) / rate
            : Number.POSITIVE_INFINITY
        const forS = switches < MOST_SWITCHES ? Math.min(leftS, untilS) : leftS
        const before = missing
        missing = Math.max(0, missing + rate * forS)
        if (loads) {
          loadedS += forS
          pressureS += forS * pressureWithout((before + missing) / 2, gasM3, prechargePa, highPa, exponent)
        }
        leftS -= forS
        if (leftS > 1e-9) loads = !loads
        else if (forS === untilS) loads = !loads
      }
      if (loadedS > 0) {
        last = { ...base, durationS: loadedS, pressurePa: pressureS / loadedS }
        out.push({ ...last, extraJ: step.extraJ })
      }
      if (step.durationS - loadedS > 0) {
        out.push({
          ...base,
          startS: step.startS + loadedS,
          durationS: step.durationS - loadedS,
          pressurePa: Math.min(model.unloadingPa, highPa),
          extraJ: loadedS > 0 ? 0 : step.extraJ,
        })
      }
    }
    if (missing > 0 && last?.unit) {
      const durationS = missing / unitFlowM3S(last.unit, last.pressurePa)
      const charging = supplyElectricJ({ ...last, durationS, extraJ: 0 }, model)
      const unloaded = supplyElectricJ(
        { ...last, durationS, pressurePa: model.unloadingPa, extraJ: 0 },
        model,
      )
      const end = out[out.length - 1]
      out[out.length - 1] = { ...end, extraJ: end.extraJ + charging - unloaded }
    }
    return out
  }
}
