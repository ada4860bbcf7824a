import { describe, expect, it } from 'vitest'
import { gasVolumeM3 } from '@/lib/machine/accumulator'
import { deepestNeedM3 } from '@/lib/options/charging'
import { supplyUnder } from '@/lib/options/replay'
import type { SupplyStep } from '@/lib/options/supply'
import { HOLD, IDLE, METER, MOVE } from '../../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handInputKW, handRunKW, handShaftKW } from '../../../laws/hand-machine'
import { repeat } from '../../../laws/hand-trace'
import { DUTY, ledgerOf, planOf, reasonsOf, savingOn } from '../hand-options'

const id = 'accumulator-charging'
/** 57 s idle and 3 s of stroke at 80 bar. */
const STROKES = 20
const duty = repeat(
  [
    { ...IDLE, seconds: 57 },
    { ...MOVE, seconds: 3 },
  ],
  STROKES,
)

describe('accumulator with unloading valve', () => {
  const ledger = ledgerOf(duty)

  it('sizes pump, pressures and gas so that the charge lasts', () => {
    const { settings } = savingOn(ledger, id)
    // The stroke's load of 70 bar and 10 bar; 10 bar below the relief.
    expect(settings.lowBar).toBeCloseTo(80, 3)
    expect(settings.highBar).toBeCloseTo(150, 3)
    // Charging begins with half the oil gone, well above the lowest: p·V^1.4 from 151.01 and 81.01 bar absolute.
    const [full, empty] = [151.01325, 81.01325].map((bar) => bar ** (-1 / 1.4))
    expect(settings.reloadBar).toBeCloseTo(((full + empty) / 2) ** -1.4 - 1.01325, 0)
    // 4.39 L a minute, and a tenth: 5.4 % of 85.5 L/min, so 10 % of 60 cm³ or a little more.
    const share = Number(settings.pumpCm3) / 60
    expect(share).toBeGreaterThanOrEqual(0.1 - 1e-9)
    // One stroke takes 3 s of 87.75 L/min less what the pump gives meanwhile; as much again is spare.
    const strokeL = (3 * (87.75 - share * handFlowLpm(150))) / 60
    const gasL = 1000 * gasVolumeM3((2 * strokeL) / 1000, 0.9 * 81.01325e5 - 1.01325e5, 80e5, 150e5, 1.4)
    expect(Number(settings.gasLitres)).toBeGreaterThanOrEqual(gasL - 1e-6)
    expect(Number(settings.gasLitres)).toBeLessThan(gasL + 1.5)
  })

  it('energy: so long charging as the strokes need, else unloaded: by hand', () => {
    const { share, settings } = savingOn(ledger, id)
    const size = Number(settings.pumpCm3) / 60
    // Charging works between the pressure with half the oil gone and 150 bar.
    const strokeL = (3 * 87.75) / 60
    const run = (bar: number) => handInputKW(size * handShaftKW(bar))
    const energyAt = (bar: number) => {
      const chargeS = (60 * strokeL) / (size * handFlowLpm(bar))
      return chargeS * run(bar) + (60 - chargeS) * run(5)
    }
    const before = 57 * handRunKW(160) + 3 * handRunKW(80)
    expect(share.value).toBeGreaterThan(1 - energyAt(150) / before)
    expect(share.value).toBeLessThan(1 - energyAt(95) / before)
  })

  it('the charge is followed in order and never falls below the lowest pressure', () => {
    const { change, settings } = planOf(id, ledger)
    const { supply, model } = supplyUnder(ledger)
    const after = change?.(supply, model) ?? []
    const loaded = after.filter((step) => step.pressurePa > 6e5)
    expect(Math.min(...loaded.map((step) => step.pressurePa))).toBeGreaterThanOrEqual(
      Number(settings.lowBar) * 1e5,
    )
    expect(Math.max(...loaded.map((step) => step.pressurePa))).toBeLessThanOrEqual(
      Number(settings.highBar) * 1e5 + 1,
    )
    const time = (steps: readonly SupplyStep[]) => steps.reduce((sum, step) => sum + step.durationS, 0)
    expect(time(after)).toBeCloseTo(time(supply), 6)
    // What is pumped in is what the strokes take out, but for what is charged after the log's end.
    const pumped = loaded.reduce(
      (sum, step) =>
        sum +
        step.durationS *
          (step.unit?.pump.flowM3S(step.pressurePa, model.motor.synchronousRadS) ?? Number.NaN),
      0,
    )
    const takenM3 = (STROKES * 3 * 87.75e-3) / 60
    expect(pumped).toBeLessThanOrEqual(takenM3 * 1.001)
    expect(pumped).toBeGreaterThan(takenM3 - (1.25 * 3 * 87.75e-3) / 60)
  })

  it('the deepest need counts strokes that follow too soon', () => {
    const { supply } = supplyUnder(ledger)
    const one = deepestNeedM3(supply, 0.1 * 87.75e-3 * (1 / 60))
    expect(one * 1000).toBeCloseTo((3 * 0.9 * 87.75) / 60, 3)
    // A pump of 5 % gives 4.17 L a minute, less than the 4.39 L of a stroke: the need grows stroke by stroke.
    const many = deepestNeedM3(supply, 0.04 * 87.75e-3 * (1 / 60))
    expect(many).toBeGreaterThan(3 * one)
  })

  it('says why not, and that pressure equipment law applies', () => {
    expect(reasonsOf(id, ledgerOf())).toEqual(['no-room-to-charge'])
    expect(planOf(id, ledgerOf(DUTY, HAND_MACHINE, ['systemFlow', 'power'])).judged).toBe(false)
    const long = repeat(
      [
        { ...IDLE, seconds: 20 },
        { ...MOVE, seconds: 300 },
      ],
      3,
    )
    expect(reasonsOf(id, ledgerOf(long, HAND_MACHINE, undefined, 1))).toEqual(['accumulator-too-large'])
    const codes = planOf(id, ledger).cautions.map(({ code }) => code)
    expect(codes).toEqual(expect.arrayContaining(['pressure-equipment', 'lockout-stored-energy']))
    expect(planOf(id, ledgerOf(repeat([IDLE, MOVE, HOLD, METER], 8))).change).toBeNull()
  })
})
