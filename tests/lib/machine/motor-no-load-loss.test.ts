import { afterAll, describe, expect, it } from 'vitest'
import { motorModel } from '@/lib/machine/motor'
import { nominalEfficiency } from '@/lib/machine/motor-efficiency'
import { defaultNoLoadLossShare, NO_LOAD_LOSS_SHARE_LIMIT } from '@/lib/machine/motor-no-load-loss'
import { defaultPowerFactor } from '@/lib/machine/motor-power-factor'

/**
 * US DOE, Determining Electric Motor Load and Efficiency: part-load efficiency over its maximum, digitised (± .01),
 * by rated input. The figure's motors are older than the classes, so the fit takes IE1 to IE3 together.
 */
const LOADS = [0.3, 0.4, 0.6, 0.8]
const CURVES = [
  { inputKW: 7.5, published: [0.887, 0.95, 1, 1] },
  { inputKW: 15, published: [0.937, 0.98, 1, 1] },
  { inputKW: 35, published: [0.957, 1, 1, 1] },
  { inputKW: 70, published: [0.987, 1, 1, 1] },
] as const
const CLASSES = ['IE1', 'IE2', 'IE3'] as const
const SIZE = { poles: 4, frequencyHz: 50 }

const outputOf = (inputKW: number) => {
  const efficiency = nominalEfficiency('IE2', { ...SIZE, ratedPowerKW: 0.9 * inputKW }) ?? Number.NaN
  return efficiency * inputKW
}

/** η(x)/η_max of loss λ·(s + (1 − s)·x²) at the loads above. */
function relative(share: number, rated: number): number[] {
  const lossShare = 1 / rated - 1
  const efficiency = (x: number) => x / (x + lossShare * (share + (1 - share) * x * x))
  const best = Math.max(...Array.from({ length: 100 }, (_, i) => efficiency((i + 1) / 100)))
  return LOADS.map((x) => efficiency(x) / best)
}

/** A curve's points err together (digitising, the square law, the class of its motors): this much, 1 sd. */
const CURVE_SD = 0.03
/** The domain's 0.45 ± 0.2. */
const PRIOR = { mean: 0.45, sd: 0.1 }

/** The share that fits one curve best, with the domain's share as prior: least squares on a grid. */
function fitted(inputKW: number, published: readonly number[]): number {
  let best = { share: 0, cost: Number.POSITIVE_INFINITY }
  for (let share = 0.05; share < 1; share += 0.001) {
    let cost = ((share - PRIOR.mean) / PRIOR.sd) ** 2
    for (const of of CLASSES) {
      const rated = nominalEfficiency(of, { ...SIZE, ratedPowerKW: outputOf(inputKW) }) ?? Number.NaN
      relative(share, rated).forEach((value, i) => {
        cost += ((value - published[i]) / CURVE_SD) ** 2 / CLASSES.length
      })
    }
    if (cost < best.cost) best = { share, cost }
  }
  return best.share
}

describe('default share of the loss without load', () => {
  it('is the straight line over ln(kW) through the shares that fit the published curves best', () => {
    const points = CURVES.map(({ inputKW, published }) => ({
      x: Math.log(outputOf(inputKW)),
      y: fitted(inputKW, published),
    }))
    const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length
    const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length
    const slope =
      points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) /
      points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0)
    for (const { x } of points) {
      const line = meanY + slope * (x - meanX)
      expect(defaultNoLoadLossShare({ ratedPowerKW: Math.exp(x) })).toBeCloseTo(line, 2)
    }
    expect(slope).toBeLessThan(-0.03)
  })
  it('falls with size, lies within the domain’s band, and ends with the curves', () => {
    const shares = [1, 7.5, 15, 37, 75, 200].map((ratedPowerKW) => defaultNoLoadLossShare({ ratedPowerKW }))
    expect(shares).toEqual([...shares].sort((a, b) => b - a))
    for (const share of shares) expect(Math.abs(share - PRIOR.mean)).toBeLessThan(NO_LOAD_LOSS_SHARE_LIMIT)
    expect(defaultNoLoadLossShare({ ratedPowerKW: 500 })).toBe(defaultNoLoadLossShare({ ratedPowerKW: 75 }))
  })

  /** Digitised (± .01), and what one share for all motors of a size leaves. */
  const HELD_WITHIN = 0.045
  const cases = CURVES.flatMap(({ inputKW, published }) =>
    CLASSES.flatMap((of) => published.map((value, i) => ({ inputKW, of, load: LOADS[i], value }))),
  )
  const motorOf = (inputKW: number, of: (typeof CLASSES)[number], noLoadLossShare = 0) => {
    const ratedPowerKW = outputOf(inputKW)
    return motorModel(
      { ...SIZE, ratedPowerKW, ratedVoltageV: 400, efficiencyClass: of, ratedSpeedRpm: 1470 },
      { noLoadLossShare },
    )
  }
  const modelled = (motor: ReturnType<typeof motorOf>, load: number) => {
    const efficiency = (x: number) =>
      (x * motor.ratedShaftW) / (x * motor.ratedShaftW + motor.lossW(x * motor.ratedShaftW))
    return efficiency(load) / Math.max(...Array.from({ length: 100 }, (_, i) => efficiency((i + 1) / 100)))
  }
  it.each(cases)('$inputKW kW $of at $load load: $value', ({ inputKW, of, load, value }) => {
    expect(Math.abs(modelled(motorOf(inputKW, of), load) - value)).toBeLessThan(HELD_WITHIN)
    const limit = NO_LOAD_LOSS_SHARE_LIMIT
    expect(modelled(motorOf(inputKW, of, limit), load)).toBeLessThan(value + 0.01)
    expect(modelled(motorOf(inputKW, of, -limit), load)).toBeGreaterThan(value - 0.011)
  })
  afterAll(() => {
    if (process.env.TRUTH_TABLE !== '1') return
    const lines = cases.map((one) => {
      const error = modelled(motorOf(one.inputKW, one.of), one.load) - one.value
      return `${one.inputKW} kW ${one.of} load ${one.load}: published ${one.value}, off by ${error.toFixed(3)}`
    })
    console.log(lines.join('\n'))
  })
})

/** Power factor at ½, ¾ and full load, 4-pole (secondary page); no load .1 to .17, the larger the lower. */
describe('power factors with every default', () => {
  const ROWS = [
    { hp: 10, half: 0.74, threeQuarters: 0.84, full: 0.86 },
    { hp: 44.7, half: 0.79, threeQuarters: 0.86, full: 0.89 },
    { hp: 173, half: 0.81, threeQuarters: 0.88, full: 0.91 },
  ] as const
  const motorOf = (hp: number) =>
    motorModel({ ...SIZE, ratedPowerKW: hp * 0.7456998716, ratedVoltageV: 400, ratedSpeedRpm: 1470 })
  const factorAt = (hp: number, load: number) => {
    const motor = motorOf(hp)
    const shaftW = load * motor.ratedShaftW
    return (shaftW + motor.lossW(shaftW)) / (Math.sqrt(3) * 400 * motor.currentA(shaftW))
  }
  it.each(ROWS)('$hp hp: $half, $threeQuarters, $full', ({ hp, half, threeQuarters, full }) => {
    expect(defaultPowerFactor({ ...SIZE, ratedPowerKW: hp * 0.7456998716 })).toBeCloseTo(full, 3)
    expect(factorAt(hp, 1)).toBeCloseTo(full, 3)
    expect(Math.abs(factorAt(hp, 0.75) - threeQuarters)).toBeLessThan(0.04)
    expect(Math.abs(factorAt(hp, 0.5) - half)).toBeLessThan(0.05)
    expect(factorAt(hp, 0)).toBeGreaterThan(0.06)
    expect(factorAt(hp, 0)).toBeLessThan(0.17)
  })
  it('falls with the number of poles (common practice, no source)', () => {
    const factors = [2, 4, 6, 8].map((poles) => defaultPowerFactor({ ...SIZE, poles, ratedPowerKW: 22 }))
    expect(factors).toEqual([...factors].sort((a, b) => b - a))
    expect(new Set(factors).size).toBe(4)
  })
  afterAll(() => {
    if (process.env.TRUTH_TABLE !== '1') return
    for (const { hp, half, threeQuarters, full } of ROWS) {
      const at = [0.5, 0.75, 1].map((load) => factorAt(hp, load).toFixed(3))
      console.log(
        `${hp} hp: model ${at.join(' ')} published ${half} ${threeQuarters} ${full}, no load ${factorAt(hp, 0).toFixed(3)}`,
      )
    }
  })
})
