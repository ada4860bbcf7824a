import { describe, expect, it } from 'vitest'
import { machineSchema } from '@/lib/contract/machine'
import { HOLD, IDLE, METER, MOVE } from '../../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handRunKW } from '../../../laws/hand-machine'
import { type MeterName, type Piece, repeat } from '../../../laws/hand-trace'
import { DUTY, FITTED, ledgerOf, planOf, reasonsOf, STROKE_KJ, savingOn } from '../hand-options'

/** Hand calculation from nameplate formulas; the margin of 10 bar is the contract's. */
describe('second relief setting', () => {
  const id = 'second-relief-setting'

  it('the metering step runs at the low setting, the 140 bar hold does not: by hand', () => {
    const { share, settings } = savingOn(ledgerOf(), id)
    const low = Number(settings.lowSettingBar)
    // The load of 60 bar and 10 bar of margin ask for 70; room for the sensors may be added.
    expect(low).toBeGreaterThanOrEqual(70 - 1e-6)
    expect(low).toBeLessThan(82)
    expect(settings.marginBar).toBe(10)
    // Same flow, same crack ratio and override: 155.2 bar at a setting of 160 is 0.97 of any setting.
    const savedKJ = 5 * handRunKW(155.2) - 5 * handRunKW(0.97 * low)
    expect(share.value).toBeCloseTo(savedKJ / STROKE_KJ, 4)
  })

  it('its interval is that of a saving: narrow, and never below nothing', () => {
    const { share } = savingOn(ledgerOf(), id)
    expect(share.low).toBeGreaterThan(0.8 * share.value)
    expect(share.high).toBeLessThan(1.2 * share.value)
  })

  it('picks the setting that saves most when several steps could run at different ones', () => {
    const long: Piece = { ...METER, seconds: 12, loadBar: 95 }
    const short: Piece = { ...METER, seconds: 1, loadBar: 20 }
    const { settings } = savingOn(ledgerOf(repeat([IDLE, MOVE, short, MOVE, long], 8)), id)
    // At 105 bar both steps run low: 13 s · 50 bar; at 30 bar only the short one: 1 s · 126 bar.
    expect(Number(settings.lowSettingBar)).toBeGreaterThanOrEqual(105 - 1e-6)
    expect(Number(settings.lowSettingBar)).toBeLessThan(118)
  })

  it('needs to know the loads', () => {
    const plan = planOf(id, ledgerOf(DUTY, HAND_MACHINE, ['systemFlow', 'power']))
    expect(plan.judged).toBe(false)
    expect(plan.change).toBeNull()
    expect(plan.reasons.map(({ code }) => code)).toEqual(['needs-load-pressure'])
  })

  it('finds no step where every load is near the setting', () => {
    const pieces = repeat([IDLE, MOVE, { ...METER, loadBar: 150 }], 8)
    expect(reasonsOf(id, ledgerOf(pieces))).toEqual(['no-step-below-low-setting'])
  })
})

describe('lower relief setting', () => {
  const id = 'lower-relief-setting'

  it('the highest load, 140 bar in the hold, and 10 bar: 150 bar, by hand', () => {
    const { share, settings } = savingOn(ledgerOf(), id)
    expect(settings.settingBar).toBeCloseTo(150, 3)
    // Idle and hold from 160 to 150 bar, metering from 155.2 to 0.97 · 150; moving at 80 bar stays.
    const savedKJ =
      20 * (handRunKW(160) - handRunKW(150)) +
      3 * (handRunKW(160) - handRunKW(150)) +
      5 * (handRunKW(155.2) - handRunKW(145.5))
    expect(share.value).toBeCloseTo(savedKJ / STROKE_KJ, 4)
  })

  it('the moving step’s pressure is a need too', () => {
    const pieces = repeat([IDLE, { ...MOVE, bar: 130, loadBar: 125, systemLpm: 90 - (4.5 * 130) / 160 }], 8)
    expect(savingOn(ledgerOf(pieces), id).settings.settingBar).toBeCloseTo(135, 3)
  })

  it('a stroke that now opens the relief loses oil and takes longer: by hand', () => {
    const full = handFlowLpm(130)
    const pieces = repeat([IDLE, { ...MOVE, bar: 130, loadBar: 125, systemLpm: full }], 8)
    const { share, option } = savingOn(ledgerOf(pieces), id)
    // Set to 135 bar it cracks at 126.9. At 128.369 bar 86.39 L/min come from the pump, 15.51 pass the relief, and
    // the way, which takes 5 bar at 86.34 L/min, lets 70.88 through to 125 bar.
    const bar = 128.3694
    const lost = (85.5 * (bar - 0.94 * 135)) / (0.06 * 135)
    const through = full * Math.sqrt((bar - 125) / 5)
    expect(handFlowLpm(bar) - lost - through).toBeCloseTo(0, 2)
    const strokeS = (6 * full) / through
    expect(option.cycleTimeChangeShare).toBeCloseTo(strokeS / 6 - 1, 2)
    const beforeKJ = 20 * handRunKW(160) + 6 * handRunKW(130)
    const afterKJ = 20 * handRunKW(135) + strokeS * handRunKW(bar)
    expect(share.value).toBeCloseTo((beforeKJ - afterKJ) / beforeKJ, 3)
    expect(option.cautions.map(({ code }) => code)).toContain('cycle-time-penalty')
  })

  it('a sample on the way from a stroke to the open relief is no load: it comes down with the relief and takes no longer', () => {
    const fitted: readonly MeterName[] = ['systemFlow', 'power']
    const stroke: Piece = { ...MOVE, bar: 110, systemLpm: handFlowLpm(110) }
    // Four fifths of the flow at 142 bar: what a meter shows of the last stroke and the first idle within 0.2 s.
    const between: Piece = { seconds: 0.2, bar: 142, systemLpm: 0.85 * handFlowLpm(142), returnLpm: 0 }
    const of = (pieces: readonly Piece[]) =>
      savingOn(ledgerOf(repeat(pieces, 8), HAND_MACHINE, fitted, 5), id)
    const plain = of([IDLE, stroke])
    const { share, option } = of([IDLE, stroke, between])
    expect(plain.settings.settingBar).toBeCloseTo(120, 0)
    expect(option.cycleTimeChangeShare).toBeCloseTo(0, 3)
    expect(share.value / plain.share.value).toBeCloseTo(1, 2)
  })

  it('never below what a pump needs to unload by the line’s pressure', () => {
    // The large of two pumps goes to tank above 120 bar; a relief that cracks at 0.94 of its setting lies above that from 127.7 bar on.
    const { pump } = HAND_MACHINE
    const pair = machineSchema.parse({
      ...HAND_MACHINE,
      pump: { ...pump, displacementCm3: 20 },
      furtherPumps: [{ ...pump, displacementCm3: 40, unloadsAboveBar: 120 }],
    })
    const held = { ...HOLD, loadBar: 90 }
    const pieces = repeat(
      [IDLE, MOVE, held, { ...MOVE, bar: 60, loadBar: 50, systemLpm: handFlowLpm(60) }],
      8,
    )
    const { settings } = planOf(id, ledgerOf(pieces, pair))
    expect(Number(settings.settingBar)).toBeGreaterThan(120)
  })

  it('is refused where the loads need it all', () => {
    const pieces = repeat([IDLE, MOVE, { ...HOLD, loadBar: 155 }, MOVE], 8)
    expect(reasonsOf(id, ledgerOf(pieces))).toEqual(['setting-already-lowest'])
  })

  it('is not judged where a metering step’s load is unknown, or where no work was seen', () => {
    const blind = planOf(id, ledgerOf(DUTY, HAND_MACHINE, ['systemFlow', 'power']))
    expect([blind.judged, blind.change]).toEqual([false, null])
    const idle = planOf(id, ledgerOf([{ ...IDLE, seconds: 200 }], HAND_MACHINE, FITTED))
    expect(idle.judged).toBe(false)
    expect(idle.reasons.map(({ code }) => code)).toEqual(['no-work-logged'])
  })

  it('a person confirms the loads that were not logged', () => {
    const codes = planOf(id, ledgerOf()).cautions.map(({ code }) => code)
    expect(codes).toContain('confirm-unlogged-loads')
    expect(codes).toContain('qualified-person')
  })
})
