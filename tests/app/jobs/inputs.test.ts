import { expect, it } from 'vitest'
import { inputsOf } from '@/app/_jobs/inputs'
import { siteSchema } from '@/lib/contract/site'
import { BALER } from '../../invented/baler'

const site = siteSchema.parse({})
const channels = [{ column: 'P', quantity: 'pressure' as const, unit: 'bar' as const }]
const machine = { ...BALER, channels }
const today = inputsOf(machine, site, [])

it('are the same whatever order the fields come in, and where left out is undefined', () => {
  const turned = Object.fromEntries(Object.entries(machine).reverse()) as typeof machine
  expect(inputsOf({ ...turned, longestHoldS: undefined }, site, [])).toEqual(today)
})

it('ask for another reading where columns or the time zone change', () => {
  const scaled = { ...machine, channels: [{ ...channels[0], unit: 'psi' as const }] }
  expect(inputsOf(scaled, site, []).readingInputs).not.toBe(today.readingInputs)
  expect(inputsOf(scaled, site, []).computingInputs).toBe(today.computingInputs)
  const elsewhere = siteSchema.parse({ timeZone: 'Europe/Vienna' })
  expect(inputsOf(machine, elsewhere, []).readingInputs).not.toBe(today.readingInputs)
})

it('ask for another analysis where the nameplate or the price changes, and for no reading', () => {
  const dearer = inputsOf(machine, siteSchema.parse({ energyPricePerKWh: 0.21 }), [])
  const other = inputsOf({ ...machine, relief: { ...machine.relief, settingBar: 161 } }, site, [])
  for (const changed of [dearer, other]) {
    expect(changed.readingInputs).toBe(today.readingInputs)
    expect(changed.computingInputs).not.toBe(today.computingInputs)
  }
})

it('ask for another analysis where a correction is made, moved or put in another order, not where it is explained', () => {
  const first = { startS: 1, endS: 5, kind: 'stopped' as const }
  const second = { startS: 3, endS: 8, kind: 'work-moving' as const }
  const seen = [[], [first], [{ ...first, endS: 6 }], [first, second], [second, first]].map((corrections) =>
    inputsOf(machine, site, corrections),
  )
  expect(new Set(seen.map(({ computingInputs }) => computingInputs)).size).toBe(seen.length)
  expect(new Set(seen.map(({ readingInputs }) => readingInputs)).size).toBe(1)
  const explained = { ...first, reason: 'the mains were off', id: 'x' }
  expect(inputsOf(machine, site, [explained])).toEqual(seen[1])
})

it('ask for nothing where only the evidence of a sensor changes: a log keeps what it was imported with', () => {
  const certified = { ...machine, channels: [{ ...channels[0], evidence: { serialNumber: '4711' } }] }
  expect(inputsOf(certified, site, [])).toEqual(today)
})
