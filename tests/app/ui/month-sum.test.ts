import { expect, it } from 'vitest'
import type { MachineMonthView } from '@/app/_server/views/month-view'
import { sumMonth } from '@/app/_ui/months/month-sum'
import { pick } from '@/app/_ui/months/pick'
import { wasteRows } from '@/app/_ui/months/waste-rows'
import { siteSchema } from '@/lib/contract/site'
import { narrowMonth } from '@/lib/months/narrow-month'
import { reviewMachine } from '@/lib/months/review'
import { summarise } from '@/lib/months/summary'
import { NO_ENERGY } from '../../invented/no-energy'

const site = siteSchema.parse({ plannedHoursPerYear: 1200, energyPricePerKWh: 0.2 })
const KWH = 3.6e6

function machine(id: string, idleKWh: number, meteringKWh: number | null): MachineMonthView {
  const none = { ...NO_ENERGY, seconds: 3600 }
  const idle = { ...none, phaseKind: 'idle-loaded' as const, electricJ: idleKWh * KWH, cost: idleKWh * 0.2 }
  const work = {
    ...none,
    phaseKind: 'work-moving' as const,
    electricJ: 10 * KWH,
    intoSystemJ: 8 * KWH,
    meteringJ: meteringKWh === null ? null : meteringKWh * KWH,
    workJ: meteringKWh === null ? null : (8 - meteringKWh) * KWH,
    cost: 2,
  }
  const rows = [idle, work]
  const alone = { previous: null, lastYear: null, baseline: null }
  const review = reviewMachine('2026-03', { id, name: id }, narrowMonth(summarise(rows, [])), alone, site)
  return { machineId: id, name: id, line: null, review, baseline: null, logs: [], best: null }
}

const all = (machines: readonly MachineMonthView[]) => pick(machines, { search: '', choices: {} })

it('adds machines up and names what is missing from the sum', () => {
  const sums = sumMonth(all([machine('a', 5, 4), machine('b', 3, null)]))
  expect(sums.input.kWh).toBeCloseTo(28, 9)
  // 5 + 3 idle, and half of a’s working input goes into metering (4 of 8 kWh hydraulic).
  expect(sums.waste.kWh).toBeCloseTo(5 + 3 + 5, 9)
  expect(sums.missing).toEqual(['metering'])
  expect(sums.loggedHours).toBeCloseTo(4, 9)
  expect(sums.plannedHours).toBeCloseTo(200, 9)
  expect(sums.changes).toEqual({ previous: null, lastYear: null, baseline: null })
})

it('lists the largest waste first and what is not separable last, never as zero', () => {
  const rows = wasteRows([machine('a', 5, 4), machine('b', 3, null)])
  expect(rows).toHaveLength(8)
  expect(rows[0].measuredKWh).toBeCloseTo(5, 9)
  expect(rows.at(-1)).toMatchObject({
    machineId: 'b',
    kind: 'metering',
    measuredKWh: null,
    shareOfInput: null,
  })
})

it('sums what search and choices leave over, as the rows of the table do', () => {
  const machines = [machine('press', 5, 4), { ...machine('baler', 3, null), line: 'Line A' }]
  const kWh = (search: string, choices: Record<string, string>) =>
    sumMonth(pick(machines, { search, choices })).waste.kWh
  expect(kWh('', { kind: 'Idle' })).toBeCloseTo(8, 9)
  expect(kWh('', { line: 'Line A' })).toBeCloseTo(3, 9)
  expect(kWh('PRESS', {})).toBeCloseTo(10, 9)
  expect(kWh('metering', { machine: 'press' })).toBeCloseTo(5, 9)
  expect(pick(machines, { search: 'nothing like it', choices: {} })).toEqual([])
  // Input and hours belong to the machine, whichever kind of waste is looked at.
  expect(sumMonth(pick(machines, { search: '', choices: { kind: 'Idle' } })).input.kWh).toBeCloseTo(28, 9)
})
