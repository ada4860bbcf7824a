import { describe, expect, it } from 'vitest'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import type { Unit } from '@/lib/units'
import { csvOf, readText } from './hand-csv'
import { HOLD, IDLE, METER, MOVE } from './hand-duty'
import { HAND_MACHINE } from './hand-machine'
import { handTrace, repeat } from './hand-trace'

/** A law: what a quantity is called on paper changes nothing. */
const trace = handTrace(repeat([IDLE, MOVE, HOLD, METER], 6), {
  fitted: ['loadPressure', 'pumpFlow', 'systemFlow', 'power'],
  noise: 0.002,
  seed: 9,
})

async function energies(units: Readonly<Record<string, Unit>>) {
  const { text, channels } = csvOf(trace, units)
  const machine = { ...HAND_MACHINE, channels }
  const log = await readText(text, machine)
  return ledgerKWh(accountFor(log.trace, machine))
}

describe('the same log in other units', () => {
  it.each([
    ['psi, gpm and hp', 'psi', 'gpm', 'hp'],
    ['MPa, m³/h and W', 'MPa', 'm³/h', 'W'],
    ['kPa, L/min and kW', 'kPa', 'L/min', 'kW'],
  ] as const)('%s give the same energies and intervals to 1e-9', async (_name, pressure, flow, power) => {
    const metric = await energies({})
    const other = await energies({
      pumpPressure: pressure,
      loadPressure: pressure,
      pumpFlow: flow,
      systemFlow: flow,
      power,
    })
    for (const [key, estimate] of Object.entries(metric)) {
      const same = other[key as keyof typeof other]
      for (const part of ['value', 'low', 'high'] as const) {
        const size = Math.max(1, Math.abs(metric.electricIn.value))
        expect(
          Math.abs((same?.[part] ?? 1e9) - (estimate?.[part] ?? 0)) / size,
          `${key} ${part}`,
        ).toBeLessThan(1e-9)
      }
    }
  })
})
