import { describe, expect, it } from 'vitest'
import { supplyUnder } from '@/lib/options/replay'
import { supplyShaftW } from '@/lib/options/supply'
import { HOLD, IDLE, METER, MOVE, UNLOADED } from '../../../laws/hand-duty'
import {
  HAND_MACHINE,
  handFlowLpm,
  handFrictionKW,
  handInputKW,
  handLeakLpm,
  handMotorLossKW,
  handRunKW,
  handShaftKW,
} from '../../../laws/hand-machine'
import { repeat } from '../../../laws/hand-trace'
import { DUTY, ledgerOf, planOf, planWith, reasonsOf, STROKE_KJ, savingOn } from '../hand-options'

const stroked = { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' as const } }
/** The relief's line: 9.6 bar over 85.5 L/min. */
const BAR_PER_LPM = 9.6 / 85.5

describe('smaller pump', () => {
  const id = 'smaller-pump'

  it('54 cm³ for 60: by hand', () => {
    const { share, settings, option } = savingOn(ledgerOf(), id)
    expect(settings.pumpCm3).toBeCloseTo(54, 9)
    // 87.75 L/min become 78.975: 6 s of stroke last 6.667 s; of 14 s of work, 4.76 %. The next size, 51 cm³, costs 7.6 %.
    expect(option.cycleTimeChangeShare).toBeCloseTo((6 / 0.9 - 6) / 14, 4)
    // 8.55 L/min less over the relief: 0.96 bar lower in idle and hold; in metering 8.564 less, 0.9615 bar.
    const idleBar = 160 - BAR_PER_LPM * 0.1 * handFlowLpm(160)
    const meterBar = 155.2 - BAR_PER_LPM * 0.1 * handFlowLpm(155.2)
    const smaller = (bar: number) => handInputKW(0.9 * handShaftKW(bar))
    const afterKJ = 23 * smaller(idleBar) + (6 / 0.9) * smaller(80) + 5 * smaller(meterBar)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
    expect(option.cautions.map(({ code }) => code)).toContain('cycle-time-penalty')
  })

  it('a metering step that is starved falls to its load: by hand', () => {
    // 85 % of the flow at 152 bar onto a load of 60 bar, 20 s; 48 cm³ are set by a wide limit.
    const wide = { ...METER, seconds: 20, bar: 152, loadBar: 60, systemLpm: handFlowLpm(152) - 14.25 }
    const ledger = ledgerOf(repeat([IDLE, MOVE, wide], 8))
    const { change } = planWith(id, ledger, { pumpCm3: 48, cycleTimeLimitShare: 1 })
    const { supply, model } = supplyUnder(ledger)
    const after = (change?.(supply, model) ?? []).filter(
      ({ kind, durationS }) => kind === 'work-metering' && durationS > 5,
    )
    // 0.8 of 88.2 L/min at 65 bar is less than the 71.475 asked for; the way takes 10 bar at 87.75 L/min.
    const lpm = 70.505
    const bar = 60 + 10 * (lpm / 87.75) ** 2
    expect(0.8 * handFlowLpm(bar)).toBeCloseTo(lpm, 1)
    expect(after[0].pressurePa / 1e5).toBeCloseTo(bar, 0)
    expect(after[0].durationS).toBeCloseTo((20 * 71.475) / lpm, 1)
    expect(after[0].reliefM3S).toBe(0)
  })

  it('says why not', () => {
    expect(reasonsOf(id, ledgerOf([{ ...MOVE, seconds: 200 }]))).toEqual(['no-smaller-pump'])
    expect(reasonsOf(id, ledgerOf(DUTY, stroked))).toEqual(['pump-already-compensated'])
  })
})

describe('high–low pumps', () => {
  const id = 'high-low-pumps'

  /** The large pump turns with the small one, at 5 bar. */
  const pair = (share: number, bar: number) =>
    handInputKW(share * handShaftKW(bar) + (1 - share) * handShaftKW(5))
  const deadHeadBar = (share: number) => 160 - BAR_PER_LPM * (1 - share) * handFlowLpm(160)

  it('the small pump gives what metering asks for: by hand', () => {
    const { share, settings, option } = savingOn(ledgerOf(), id)
    // The stroke at 80 bar keeps both pumps: 80 / 0.85 is 94.1, so 95 bar. Metering takes 42.885 L/min: 33 cm³
    // at 155.2 bar give 47.1. 30 cm³ would not do; starved, the pair would hunt above a load of 60 bar.
    expect(settings.unloadBar).toBe(95)
    expect(settings.smallPumpCm3).toBeCloseTo(33, 9)
    expect(option.cycleTimeChangeShare).toBeCloseTo(0, 9)
    const meterBar = 155.2 - BAR_PER_LPM * (42.75 - (0.55 * handFlowLpm(155.2) - 42.885))
    const afterKJ = 23 * pair(0.55, deadHeadBar(0.55)) + 6 * handRunKW(80) + 5 * pair(0.55, meterBar)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
  })

  it('a press that meets 120 bar may be a little slower: by hand', () => {
    const press = { ...METER, loadBar: 120 }
    const { share, settings, option } = savingOn(ledgerOf(repeat([IDLE, MOVE, HOLD, press], 10)), id)
    // 27 cm³ give 39.0 L/min: 5 s become 5.504 s, 3.6 % of 14 s; 24 cm³ would cost 8.5 %.
    expect(settings.smallPumpCm3).toBeCloseTo(27, 9)
    // Starved of flow the valve is wide open: 120 bar and what the way takes, 10 bar at the stroke's 87.75 L/min.
    const pressBar = 120 + 10 * (38.956 / 87.75) ** 2
    expect(0.45 * handFlowLpm(pressBar)).toBeCloseTo(38.956, 2)
    const pressS = (5 * 42.885) / 38.956
    expect(option.cycleTimeChangeShare).toBeCloseTo((pressS - 5) / 14, 4)
    const afterKJ = 23 * pair(0.45, deadHeadBar(0.45)) + 6 * handRunKW(80) + pressS * pair(0.45, pressBar)
    // A throttle that keeps its opening would hold 120 + 35.2 · (38.5 / 42.885)² bar: the interval reaches it.
    const throttleBar = 120 + 35.2 * (38.5 / 42.885) ** 2
    const throttledS = (5 * 42.885) / (0.45 * handFlowLpm(throttleBar))
    const throttledKJ =
      23 * pair(0.45, deadHeadBar(0.45)) + 6 * handRunKW(80) + throttledS * pair(0.45, throttleBar)
    expect(share.low).toBeLessThan((STROKE_KJ - throttledKJ) / STROKE_KJ)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
  })

  it('does not split where the pair would hunt: metering above, starved below the unloading pressure', () => {
    // Nothing but metering: 80 % of the flow onto a load of 20 bar, a stroke at 80 bar.
    const wide = { ...METER, seconds: 60, bar: 152, loadBar: 20, systemLpm: handFlowLpm(152) - 14.25 }
    const { settings } = savingOn(ledgerOf(repeat([IDLE, MOVE, wide], 6)), id)
    expect(Number(settings.smallPumpCm3)).toBeGreaterThanOrEqual(0.8 * 60)
  })

  it('says why not', () => {
    expect(reasonsOf(id, ledgerOf([{ ...MOVE, seconds: 200 }]))).toEqual(['no-pump-split'])
    expect(reasonsOf(id, ledgerOf([{ ...IDLE, seconds: 200 }]))).toEqual(['no-work-logged'])
    expect(reasonsOf(id, ledgerOf(DUTY, stroked))).toEqual(['pump-already-compensated'])
  })
})

describe('load-sensing pump', () => {
  const id = 'load-sensing-pump'
  /** Part stroke: the flow asked for and the full leakage at the pressure, and the full friction. */
  const part = (bar: number, lpm: number) =>
    handInputKW((bar * (lpm + handLeakLpm(bar))) / 600 + handFrictionKW(bar))

  it('17 bar above the load: by hand', () => {
    // A hold on 120 bar: on 140 the margin would reach beyond the limiter at 150.
    const pieces = repeat([IDLE, MOVE, { ...HOLD, loadBar: 120 }, METER], 10)
    const { share, settings } = savingOn(ledgerOf(pieces), id)
    expect(settings.marginBar).toBe(17)
    // Idle: standby at 17 bar. Moving at 80 bar with 70 on the load has no 17 bar to lose: it stays.
    const afterKJ = 20 * part(17, 0) + 6 * handRunKW(80) + 3 * part(137, 0) + 5 * part(77, 42.885)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
  })

  it('never above the limiter, 10 bar below the relief', () => {
    const { share } = savingOn(ledgerOf(), id)
    const afterKJ = 20 * part(17, 0) + 6 * handRunKW(80) + 3 * part(150, 0) + 5 * part(77, 42.885)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
  })

  it('changes nothing where the margin is what there is', () => {
    // Moving with 17 bar between pump and load, all flow asked for.
    const pieces = [{ ...MOVE, seconds: 200, bar: 80, loadBar: 63 }]
    expect(savingOn(ledgerOf(pieces), id).share.value).toBeCloseTo(0, 6)
  })

  it('an unloaded idle may cost more than before, and it is replayed', () => {
    const vented = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const
    const { share } = savingOn(ledgerOf(repeat([UNLOADED, MOVE], 6), vented), id)
    const before = 20 * handRunKW(5) + 6 * handRunKW(80)
    expect(share.value).toBeCloseTo((20 * handRunKW(5) - 20 * part(17, 0)) / before, 3)
  })

  it('says why not', () => {
    expect(planOf(id, ledgerOf(DUTY, HAND_MACHINE, ['systemFlow', 'power'])).judged).toBe(false)
    const high = repeat([IDLE, MOVE, { ...HOLD, loadBar: 156 }, MOVE], 8)
    expect(reasonsOf(id, ledgerOf(high))).toEqual(['pressure-not-met'])
    const already = { ...HAND_MACHINE, pump: { ...HAND_MACHINE.pump, kind: 'load-sensing' as const } }
    expect(reasonsOf(id, ledgerOf(DUTY, already))).toEqual(['pump-already-load-sensing'])
  })
})

describe('variable-speed drive', () => {
  const id = 'variable-speed-drive'
  /** Electric power at a speed, share of 1500 rpm: torque as on the mains, no-load loss with speed, drive by its table. */
  const driven = (bar: number, speedShare: number) => {
    const mainsKW = handShaftKW(bar)
    const outputKW = mainsKW * speedShare + handMotorLossKW(mainsKW) - handMotorLossKW(0) * (1 - speedShare)
    return outputKW + driveLossKW(outputKW)
  }
  /** US DOE tip sheet 11, 30 kW = 40.23 hp between its 30 and 50 hp rows. */
  const driveLossKW = (outputKW: number) => {
    const shares = [0.125, 0.25, 0.42, 0.5, 0.75, 1]
    const hp30 = [88, 93, 95, 95, 96, 97]
    const hp50 = [86, 92, 95, 95, 96, 97]
    const part = (30 / 0.7456998716 - 30) / 20
    const at = Math.min(outputKW / (30 / 0.923), 1)
    const high = Math.max(
      1,
      shares.findIndex((share) => share >= at),
    )
    const along = (at - shares[high - 1]) / (shares[high] - shares[high - 1])
    const row = hp30.map((low, i) => low + part * (hp50[i] - low))
    const percent = row[high - 1] + along * (row[high] - row[high - 1])
    return outputKW * (100 / percent - 1)
  }

  it('speed follows the flow, down to a quarter: by hand', () => {
    const { share, settings } = savingOn(ledgerOf(), id)
    expect(settings.minimumSpeedShare).toBe(0.25)
    // Idle at 375 rpm: 22.5 L/min less 4.23 of leakage pass the relief at 150.4 + 2.05 bar.
    const idleBar = 150.4 + BAR_PER_LPM * (22.5 - handLeakLpm(150.4))
    // Holding: the relief's 150.4 bar would do at 70 rpm; at 375 the rest passes as in idle.
    // Metering at 150 bar, below cracking: 42.885 and 4.219 L/min are 52.3 % of 90.
    const meterShare = (42.885 + handLeakLpm(150)) / 90
    const afterKJ = 23 * driven(idleBar, 0.25) + 6 * driven(80, 1) + 5 * driven(150, meterShare)
    expect(share.value).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 3)
  })

  it('costs its own loss where all flow is asked for', () => {
    const ledger = ledgerOf([{ ...MOVE, seconds: 200 }])
    const { share, option } = savingOn(ledger, id)
    expect(share.value).toBeCloseTo(1 - driven(80, 1) / handRunKW(80), 4)
    expect(share.value).toBeLessThan(-0.03)
    expect(option.reasons.map(({ code }) => code)).toContain('costs-energy')
  })

  it('power is linear in speed at one pressure, never its cube', () => {
    const { change } = planOf(id, ledgerOf())
    const { supply, model } = supplyUnder(ledgerOf())
    const after = change?.(supply, model) ?? []
    const idle = after.filter((step) => step.kind === 'idle-loaded')[0]
    expect(idle.speedRadS).toBeCloseTo((375 * 2 * Math.PI) / 60, 9)
    const shaftKW = supplyShaftW(idle, model) / 1000
    expect(shaftKW).toBeCloseTo(handShaftKW(idle.pressurePa / 1e5) / 4, 6)
  })

  it('is refused beyond one and a half times the motor’s torque', () => {
    // A motor of 15 kW, 95.5 Nm, on a pump that takes 169.8 Nm at 160 bar.
    const motor = { ...HAND_MACHINE.motor, ratedPowerKW: 15, ratedCurrentA: 27, noLoadCurrentA: 11 }
    expect(reasonsOf(id, ledgerOf(DUTY, { ...HAND_MACHINE, motor }))).toEqual(['torque-beyond-motor'])
    expect(reasonsOf(id, ledgerOf(DUTY, stroked))).toEqual(['pump-already-compensated'])
  })
})
