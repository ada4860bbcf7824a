import { expect, it } from 'vitest'
import { monthColumns } from '@/app/_server/views/month-columns'
import type { MachineReviewView } from '@/app/_server/views/month-reviews'
import { shownMachines } from '@/app/_server/views/shown-machines'
import { optionTitle } from '@/app/_words/en/option-title'
import { options } from '@/app/_words/en/options'
import { siteSchema } from '@/lib/contract/site'
import { FIGURES } from '@/lib/months/figures'
import { kindTable } from '@/lib/months/kind-table'
import { narrowMonth } from '@/lib/months/narrow-month'
import { reviewMachine } from '@/lib/months/review'
import type { KindSums, MonthSummary } from '@/lib/months/summary'

const site = siteSchema.parse({ plannedHoursPerYear: 1200, tariff: { demand: { pricePerKWMonth: 9 } } })
const H = 3600

/** Two days, half of them idle at 3 kW. @param kWh in work by figure; null: not separable */
function summaryOf(hours: number, kWh: readonly (number | null)[]): MonthSummary {
  const idle = FIGURES.map((figure) => (figure === 'electric' || figure === 'idle' ? (3 * hours) / 2 : 0))
  const kinds: KindSums[] = [
    { kind: 'stopped', seconds: H, kWh: idle.map(() => 0), cost: idle.map(() => 0), heatKWh: 0 },
    {
      kind: 'idle-loaded',
      seconds: (hours / 2) * H,
      kWh: idle,
      cost: idle.map((one) => one / 5),
      heatKWh: 1,
    },
    {
      kind: 'work-metering',
      seconds: (hours / 2) * H,
      kWh,
      cost: kWh.map((one) => one && one / 5),
      heatKWh: 2,
    },
  ]
  return {
    logs: 2,
    cycles: 40,
    kinds,
    spread: {
      independent: FIGURES.flatMap((_, i) => FIGURES.map((__, j) => (i === j ? 0.2 + i / 10 : 0))),
      shared: FIGURES.map((_, i) => [0.3 - i / 20]),
      ends: [[FIGURES.map((_, i) => -i / 7), FIGURES.map((_, i) => i / 3)]],
    },
    daySpread: { days: 2, meanHours: hours / 2, covariance: FIGURES.flatMap(() => FIGURES.map(() => 0.01)) },
    spans: [],
    peakW: 12_345,
    reactive: null,
    leftOutS: 0,
  }
}

function machine(id: string, now: MonthSummary, before: MonthSummary | null): MachineReviewView {
  const previous = before && { months: [{ month: '2026-02', table: kindTable(before.kinds) }] }
  const references = { previous, lastYear: null, baseline: previous }
  const estimate = { value: 7, low: 6, high: 9, basis: 'estimated' as const }
  return {
    machineId: id,
    name: `Machine ${id}`,
    line: id === 'a' ? null : 'Line',
    review: reviewMachine('2026-03', { id, name: id }, narrowMonth(now), references, site),
    baseline: before && { fromMonth: '2026-01', untilMonth: '2026-02' },
    best: before && {
      id: 'smaller-pump',
      savedKWhPerYear: estimate,
      savedCostPerYear: null,
      savedKgCO2PerYear: null,
      paybackYears: { ...estimate, basis: 'default' },
      netPresentValue: null,
      investment: null,
      investmentIsPlaceholder: true,
    },
  }
}

/** All that is shown is what was reviewed, to seven digits of the largest of a change's parts. */
function same(shown: unknown, full: unknown, place: string): void {
  if (typeof shown === 'number') {
    expect(typeof full, place).toBe('number')
    expect(Math.abs(shown - Number(full)), place).toBeLessThanOrEqual(1e-5 * Math.max(1e-3, Math.abs(shown)))
  } else if (typeof shown === 'object' && shown !== null) {
    const of = full as Record<string, unknown> | null
    for (const [name, value] of Object.entries(shown)) same(value, of?.[name], `${place}.${name}`)
  } else expect(shown, place).toEqual(full)
}

it('shows the figures that were reviewed, to seven digits, and nothing where nothing is known', () => {
  const whole = summaryOf(8, [20, 0, 2.5, 0.25, 3])
  const blind = summaryOf(6, [18, 0, 2, 0.5, null])
  const young: MonthSummary = { ...blind, spread: null, kinds: blind.kinds.slice(0, 1) }
  const full = [machine('a', whole, summaryOf(5, [11, 0, 1, 0.1, 2])), machine('b', blind, whole)]
  full.push(machine('c', young, null))
  const shown = shownMachines(monthColumns(full, full.length + 2))
  expect(shown.map(({ machineId }) => machineId)).toEqual(['a', 'b', 'c'])
  for (const [i, one] of shown.entries()) same(one, full[i], one.name)
  // Seen from the other side: what is known is there.
  expect(shown[0].review.changes.previous?.metering?.cost.effects.rate).toBeCloseTo(
    full[0].review.changes.previous?.metering?.cost.effects.rate ?? Number.NaN,
    5,
  )
  expect(shown[0].review.changes.lastYear).toBeNull()
  expect(shown[0].review.reach.waste?.scaledParts?.days).toBeGreaterThan(0)
  expect(shown[0].review.charges.demand).toBeCloseTo(full[0].review.charges.demand ?? Number.NaN, 3)
  expect(shown[1].review.month.measured.waste.metering).toBeNull()
  expect(shown[1].review.changes.previous?.metering).toBeNull()
  expect(shown[1].review.changes.previous?.idle).not.toBeNull()
  expect(shown[1].best).toMatchObject({ id: 'smaller-pump', investmentIsPlaceholder: true })
  expect(shown[2]).toMatchObject({ baseline: null, best: null })
  expect(shown[2].review.month.scaled).toBeNull()
  expect(shown[2].review.reach.idle).toBeNull()
})

it('shows an option that the catalogue no longer has, as months closed long ago name it, by its id', () => {
  const full = [machine('a', summaryOf(8, [20, 0, 2.5, 0.25, 3]), summaryOf(5, [11, 0, 1, 0.1, 2]))]
  const [{ best }] = full
  if (!best) return expect.fail('the machine has no best option')
  const gone = JSON.parse(JSON.stringify({ ...best, id: 'steam-accumulator' }))
  const shown = shownMachines(monthColumns([{ ...full[0], best: gone }, ...full], 2))
  expect(shown.map((one) => one.best?.id)).toEqual(['steam-accumulator', 'smaller-pump'])
  expect(shown[0].best?.savedKWhPerYear?.value).toBe(7)
  expect(shown.map((one) => optionTitle(one.best?.id ?? ''))).toEqual([
    '“steam-accumulator”, no longer offered',
    options['smaller-pump'].title,
  ])
})
