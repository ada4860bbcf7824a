import { describe, expect, it } from 'vitest'
import { plateChanges, sensorChanges, settingMoved } from '@/lib/proof/setup-changes'
import { BALER } from '../../invented/baler'
import { madeLog } from '../../invented/evidence'

const cycles = [{ kWh: 1 }]
const both = (before: object, after: object) => [
  madeLog('a', 'baseline', cycles, before),
  madeLog('b', 'comparison', cycles, after),
]

describe('what is no longer as it was', () => {
  it('nameplates, except for what the measure itself changes', () => {
    const vented = { ...BALER, unloading: { kind: 'vented-relief' as const, pressureBar: 5 } }
    const stronger = { ...vented, motor: { ...BALER.motor, ratedPowerKW: 30 } }
    expect(plateChanges(BALER, vented, 'vent-relief-at-idle')).toEqual([])
    expect(plateChanges(BALER, stronger, 'vent-relief-at-idle')).toEqual([
      { code: 'nameplate-changed', values: { part: 'motor' } },
    ])
    expect(plateChanges(BALER, vented, 'efficient-motor')).toHaveLength(1)
    // A database gives keys back in an order of its own.
    const turned = {
      ...BALER,
      pump: Object.fromEntries(Object.entries(BALER.pump).reverse()),
    } as typeof BALER
    expect(plateChanges(BALER, turned, null)).toEqual([])
  })

  it('the relief’s setting, as the logs show it', () => {
    const logs = both({ reliefSettingPa: 160e5 }, { reliefSettingPa: 140e5 })
    expect(settingMoved(logs, 'vent-relief-at-idle')).toEqual([
      { code: 'setting-moved', values: { beforePa: 160e5, afterPa: 140e5 } },
    ])
    expect(settingMoved(logs, 'lower-relief-setting')).toEqual([])
    expect(settingMoved(both({ reliefSettingPa: 160e5 }, { reliefSettingPa: 158e5 }), null)).toEqual([])
    expect(settingMoved(both({}, { reliefSettingPa: 158e5 }), null)).toEqual([])
  })

  it('sensors that one side has and the other has not', () => {
    const current = {
      column: 'I [A]',
      quantity: 'current',
      location: 'motor-supply',
      accuracy: null,
    } as const
    const power = { column: 'P [kW]', quantity: 'power', location: 'motor-supply', accuracy: null } as const
    const codes = sensorChanges(both({ sensors: [current] }, { sensors: [power] }))
    expect(codes.map(({ values }) => values.sensor)).toEqual(['current motor-supply', 'power motor-supply'])
    expect(
      sensorChanges(both({ sensors: [current] }, { sensors: [{ ...current, column: 'Strom' }] })),
    ).toEqual([])
  })
})
