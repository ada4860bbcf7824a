import { describe, expect, it } from 'vitest'
import { machineSchema } from '@/lib/contract/machine'
import { OPTION_IDS } from '@/lib/contract/result'
import { confirmationOf, leastPressurePa } from '@/lib/options/confirm'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { DUTY, ledgerOf, planOf } from './hand-options'

/** The hand duty loads up to 140 bar; the relief is set to 160. */
const confirmedAt = (highestLoadBar: number, hangsOnPressure: string[] = []) =>
  machineSchema.parse({
    ...HAND_MACHINE,
    confirmed: { highestLoadBar, by: 'A. Fitter', on: '2026-03-02', hangsOnPressure },
  })
const ledgerAt = (bar: number) => ledgerOf(DUTY, confirmedAt(bar))

describe('the least pressure that may be set', () => {
  it('is what the log needs, or a confirmed load above it', () => {
    expect(leastPressurePa({}, 140e5)).toBe(140e5)
    expect(leastPressurePa(confirmedAt(120), 140e5)).toBe(140e5)
    expect(leastPressurePa(confirmedAt(150), 140e5)).toBe(150e5)
  })
  it('stays unknown where no sensor tells, and nothing where nothing was logged', () => {
    expect(leastPressurePa(confirmedAt(150), Number.NaN)).toBeNaN()
    expect(leastPressurePa(confirmedAt(150), 0)).toBe(0)
  })
  it('raises the lowered setting: 10 bar above the load, logged 140, confirmed 145', () => {
    const settingAt = (bar: number) => planOf('lower-relief-setting', ledgerAt(bar)).settings.settingBar
    expect(settingAt(120)).toBeCloseTo(150, 6)
    expect(settingAt(145)).toBeCloseTo(155, 6)
  })
  it('leaves no room to lower it, or for a charge, where the confirmed load is near the setting', () => {
    const reasons = (id: string, bar: number) => planOf(id, ledgerAt(bar)).reasons.map(({ code }) => code)
    expect(reasons('lower-relief-setting', 155)).toEqual(['setting-already-lowest'])
    expect(reasons('pressure-compensated-pump', 155)).toEqual(['pressure-not-met'])
    expect(reasons('load-sensing-pump', 155)).toEqual(['pressure-not-met'])
    expect(reasons('accumulator-charging', 155)).toEqual(['no-room-to-charge'])
    expect(reasons('pressure-compensated-pump', 145)).toEqual([])
    expect(reasons('load-sensing-pump', 145)).toEqual([])
  })
})

describe('what is to be confirmed', () => {
  const codes = (id: (typeof OPTION_IDS)[number], ledger = ledgerOf()) =>
    confirmationOf(id, ledger).toConfirm.map(({ code }) => code)

  it('loads and what hangs on the pressure, for every option that lowers one and no other', () => {
    const asking = OPTION_IDS.filter((id) => confirmationOf(id, ledgerOf()).needsConfirmation)
    expect([...asking].sort()).toEqual(
      [
        'vent-relief-at-idle',
        'open-centre-unloading',
        'second-relief-setting',
        'lower-relief-setting',
        'high-low-pumps',
        'pressure-compensated-pump',
        'load-sensing-pump',
        'variable-speed-drive',
        'accumulator-charging',
      ].sort(),
    )
    expect(codes('vent-relief-at-idle')).toEqual(['confirm-highest-load', 'confirm-what-hangs'])
    expect(codes('efficient-motor')).toEqual([])
  })
  it('names the highest load that was logged, or none without a sensor', () => {
    const logged = (ledger = ledgerOf()) =>
      confirmationOf('lower-relief-setting', ledger).toConfirm[0].values.loggedBar
    expect(logged()).toBeCloseTo(140, 3)
    expect(logged(ledgerOf(DUTY, HAND_MACHINE, ['systemFlow', 'power']))).toBeNull()
  })
  it('nothing once a person has confirmed and nothing hangs on it; else that each thing keeps what it needs', () => {
    expect(confirmationOf('vent-relief-at-idle', ledgerAt(140))).toEqual({
      needsConfirmation: false,
      toConfirm: [],
    })
    const clamped = ledgerOf(DUTY, confirmedAt(140, ['clamps', 'pilot-supply']))
    expect(codes('vent-relief-at-idle', clamped)).toEqual(['keeps-clamps', 'keeps-pilot-supply'])
    expect(codes('restore-pump', clamped)).toEqual([])
  })
  it('a day that is none is refused', () => {
    const confirmed = { highestLoadBar: 140, by: 'A. Fitter', on: '31 March' }
    expect(machineSchema.safeParse({ ...HAND_MACHINE, confirmed }).success).toBe(false)
  })
})
