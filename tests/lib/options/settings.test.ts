import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { CATALOGUE } from '@/lib/options/catalogue'
import { contextOf } from '@/lib/options/context'
import { replayMoved } from '@/lib/options/moved'
import { type Given, refusedSetting, shownOf } from '@/lib/options/settings'
import { IDLE, METER, MOVE } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handInputKW, handShaftKW } from '../../laws/hand-machine'
import { repeat } from '../../laws/hand-trace'
import { ledgerOf, planOf, rankedFor, STROKE_KJ, siteWith } from './hand-options'

const ledger = ledgerOf()
const site = siteSchema.parse({})
const moved = (id: Parameters<typeof replayMoved>[3], given: Given, of = ledger) =>
  replayMoved(of, site, [], id, given)
const reason = (id: Parameters<typeof replayMoved>[3], given: Given, of = ledger) => {
  const { plan, replayed } = moved(id, given, of)
  expect(replayed).toBeNull()
  return plan.reasons.map(({ code, values }) => [code, values.setting ?? null])
}
/** 60 s idles between long strokes, at 1 Hz. */
const stopping = ledgerOf(
  repeat(
    [
      { ...MOVE, seconds: 600 },
      { ...IDLE, seconds: 300 },
    ],
    3,
  ),
  HAND_MACHINE,
  undefined,
  1,
)
/** 57 s idle and 3 s of stroke: an accumulator's duty. */
const charging = ledgerOf(
  repeat(
    [
      { ...IDLE, seconds: 57 },
      { ...MOVE, seconds: 3 },
    ],
    20,
  ),
)

describe('a setting that a person moved', () => {
  it('a pump of 57 cm³ for 60: by hand', () => {
    const { plan, replayed } = moved('smaller-pump', { pumpCm3: 57 })
    expect(plan.settings.pumpCm3).toBeCloseTo(57, 9)
    const barPerLpm = 9.6 / 85.5
    const bar = (from: number) => from - barPerLpm * 0.05 * handFlowLpm(from)
    const smaller = (at: number) => handInputKW(0.95 * handShaftKW(at))
    const afterKJ = 23 * smaller(bar(160)) + (6 / 0.95) * smaller(80) + 5 * smaller(bar(155.2))
    expect(replayed?.savedShare).toBeCloseTo((STROKE_KJ - afterKJ) / STROKE_KJ, 4)
  })

  it('saves less where it is moved away from what was chosen', () => {
    const share = (id: Parameters<typeof replayMoved>[3], given: Given) =>
      moved(id, given).replayed?.savedShare ?? Number.NaN
    const chosen = Number(planOf('second-relief-setting', ledger).settings.lowSettingBar)
    // Too low for the press, nothing runs at it; higher, it runs higher than it must.
    for (const by of [-15, 5, 10]) {
      expect(share('second-relief-setting', { lowSettingBar: chosen + by })).toBeLessThan(
        share('second-relief-setting', { lowSettingBar: chosen }),
      )
    }
    expect(share('vent-relief-at-idle', { ventBar: 20 })).toBeLessThan(
      share('vent-relief-at-idle', { ventBar: 5 }),
    )
    expect(share('vent-relief-at-idle', { delayS: 5 })).toBeLessThan(
      share('vent-relief-at-idle', { delayS: 0.5 }),
    )
  })

  it('is refused where the machine could not work, with its name', () => {
    expect(reason('smaller-pump', { pumpCm3: 48 })).toEqual([['cycle-time-beyond-limit', null]])
    expect(reason('smaller-pump', { pumpCm3: 90 })).toEqual([['setting-out-of-range', 'pumpCm3']])
    expect(reason('smaller-pump', { pumpCm3: Number.NaN })).toEqual([['setting-out-of-range', 'pumpCm3']])
    expect(reason('smaller-pump', { waitS: 40 })).toEqual([['setting-not-movable', 'waitS']])
    expect(reason('second-relief-setting', { lowSettingBar: 158 })).toEqual([
      ['setting-out-of-range', 'lowSettingBar'],
    ])
    // The hold needs 140 bar.
    expect(reason('lower-relief-setting', { settingBar: 145 })).toEqual([
      ['setting-out-of-range', 'settingBar'],
    ])
    expect(reason('pressure-compensated-pump', { compensatorBar: 139 })).toEqual([
      ['setting-out-of-range', 'compensatorBar'],
    ])
    expect(reason('load-sensing-pump', { marginBar: 5 })).toEqual([['setting-out-of-range', 'marginBar']])
    expect(reason('variable-speed-drive', { minimumSpeedShare: 0.1 })).toEqual([
      ['setting-out-of-range', 'minimumSpeedShare'],
    ])
    expect(reason('vent-relief-at-idle', { ventBar: 161 })).toEqual([['setting-out-of-range', 'ventBar']])
    expect(reason('efficient-motor', { ratedEfficiency: 0.99 })).toEqual([
      ['setting-not-movable', 'ratedEfficiency'],
    ])
    expect(reason('stop-motor-at-idle', { waitS: 10 }, stopping)).toEqual([['setting-out-of-range', 'waitS']])
    expect(reason('stop-motor-at-idle', { waitS: 280 }, stopping)).toEqual([['rest-too-short', null]])
    expect(reason('accumulator-charging', { highBar: 155 }, charging)).toEqual([
      ['setting-out-of-range', 'highBar'],
    ])
    expect(reason('accumulator-charging', { gasLitres: 1 }, charging)).toEqual([
      ['accumulator-too-small', null],
    ])
  })

  it('a longer cycle that a person allows makes a smaller pump possible', () => {
    const { plan } = moved('smaller-pump', { pumpCm3: 48, cycleTimeLimitShare: 0.2 })
    expect(plan.settings).toMatchObject({ pumpCm3: 48, cycleTimeLimitShare: 0.2 })
    expect(plan.cycleTimeChangeShare).toBeCloseTo((6 / 0.8 - 6) / 14, 3)
  })

  it('the others are chosen anew to go with it', () => {
    const { plan } = moved('high-low-pumps', { unloadBar: 120 })
    expect(plan.settings.unloadBar).toBe(120)
    expect(Number(plan.settings.smallPumpCm3)).toBeGreaterThan(0)
    const larger = moved('accumulator-charging', { gasLitres: 60 }, charging).plan.settings
    expect(larger.gasLitres).toBe(60)
    expect(Number(larger.pumpCm3)).toBeGreaterThan(0)
  })

  it('every setting as chosen, given back, saves the same', () => {
    for (const of of [ledger, stopping, charging]) {
      const context = contextOf(of, siteWith())
      for (const { id, plan } of CATALOGUE) {
        const { change, searched = [], settings } = plan(context)
        const names = [...new Set(searched.map(({ setting }) => setting))]
        if (!change || names.length === 0) continue
        const given = Object.fromEntries(names.map((name) => [name, Number(settings[name])]))
        const chosen = moved(id, {}, of).replayed?.savedShare
        expect(moved(id, given, of).replayed?.savedShare, id).toBeCloseTo(chosen ?? Number.NaN, 9)
      }
    }
  })
})

describe('what was tried along a setting', () => {
  const SEARCHES: Readonly<Record<string, readonly string[]>> = {
    'second-relief-setting': ['lowSettingBar'],
    'lower-relief-setting': ['settingBar'],
    'high-low-pumps': ['smallPumpCm3', 'unloadBar'],
    'pressure-compensated-pump': ['compensatorBar'],
    'load-sensing-pump': ['marginBar'],
    'smaller-pump': ['pumpCm3'],
    'variable-speed-drive': ['minimumSpeedShare'],
  }

  it('holds what was chosen; nothing feasible on the grid saves more', () => {
    for (const option of rankedFor(ledger).options) {
      const names = [...new Set(option.searched.map(({ setting }) => setting))]
      if (!option.feasible) continue
      expect(names, option.id).toEqual(SEARCHES[option.id] ?? [])
      for (const name of names) {
        const along = option.searched.filter(({ setting }) => setting === name)
        expect(along.length, option.id).toBeGreaterThan(1)
        expect(along.length, option.id).toBeLessThanOrEqual(25)
        expect(along.map(({ value }) => value)).toEqual(along.map(({ value }) => value).sort((a, b) => a - b))
        const here = along.find(({ value }) => Math.abs(value - Number(option.settings[name])) < 1e-9)
        expect(here?.feasible, `${option.id} ${name}`).toBe(true)
        expect(here?.savedShare, `${option.id} ${name}`).toBeCloseTo(
          option.savedShare?.value ?? Number.NaN,
          3,
        )
      }
    }
  })

  it('the size that saves most within the cycle time is the one proposed', () => {
    const { searched = [], settings } = planOf('smaller-pump', ledger)
    const feasible = searched.filter((one) => one.feasible)
    const most = Math.max(...feasible.map(({ savedShare }) => savedShare))
    expect(feasible.find(({ savedShare }) => savedShare === most)?.value).toBeCloseTo(
      Number(settings.pumpCm3),
      9,
    )
    // Smaller ones would save more and take too long.
    expect(searched.some((one) => !one.feasible && one.savedShare > most)).toBe(true)
  })

  it('waits: each saves what stopping after it saves', () => {
    const { searched = [] } = planOf('stop-motor-at-idle', stopping)
    const waits = searched.filter(({ feasible }) => feasible)
    expect(waits.length).toBeGreaterThan(1)
    for (const { value, savedShare } of waits) {
      const replayed = moved('stop-motor-at-idle', { waitS: value }, stopping).replayed
      expect(savedShare).toBeCloseTo(replayed?.savedShare ?? Number.NaN, 6)
    }
  })

  it('an option that finds nothing shows what it tried', () => {
    const { change, searched = [] } = planOf('smaller-pump', ledgerOf([{ ...MOVE, seconds: 200 }]))
    expect(change).toBeNull()
    expect(searched.length).toBeGreaterThan(5)
    expect(searched.every(({ feasible }) => !feasible)).toBe(true)
  })

  it('spread thin, it keeps both ends and the chosen one', () => {
    const many = Array.from({ length: 400 }, (_, k) => k)
    const shown = shownOf(many, 123)
    expect(shown.length).toBeLessThanOrEqual(25)
    expect([shown[0], shown.at(-1), shown.includes(123)]).toEqual([0, 399, true])
    expect(shownOf([3, 1, 2], null)).toEqual([1, 2, 3])
  })

  it('metering that needs little lets a lower second setting be tried', () => {
    const light = ledgerOf(repeat([IDLE, MOVE, { ...METER, loadBar: 40 }], 8))
    const { searched = [] } = planOf('second-relief-setting', light)
    expect(Math.min(...searched.map(({ value }) => value))).toBeLessThan(70)
  })
})

describe('ranges', () => {
  it('hold their ends, within rounding, and nothing beyond', () => {
    const ranges = { bar: [10, 20] } as const
    expect(refusedSetting({ bar: 10 }, ranges)).toBeNull()
    expect(refusedSetting({ bar: 20 + 1e-9 }, ranges)).toBeNull()
    expect(refusedSetting({ bar: 20.1 }, ranges)?.code).toBe('setting-out-of-range')
    expect(refusedSetting({ toString: 1 }, ranges)?.code).toBe('setting-not-movable')
  })
})
