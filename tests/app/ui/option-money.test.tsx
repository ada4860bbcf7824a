import { createReadStream } from 'node:fs'
import { renderToStaticMarkup } from 'react-dom/server'
import { beforeAll, describe, expect, it, vi } from 'vitest'
import { costCurve } from '@/app/_charts/cost-curve-layout'
import { Combinations } from '@/app/_ui/machine/combinations'
import { tornadoRows } from '@/app/_ui/machine/option-assumptions'
import { OptionDetail, type OptionPlace } from '@/app/_ui/machine/option-detail'
import { optionFigures } from '@/app/_ui/machine/option-figures'
import { describe as inWords } from '@/app/_words/describe'
import { analyse } from '@/lib/analyse'
import type { Result } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { figuresOf } from '@/lib/explain/explain'
import { readLog } from '@/lib/import/read-log'
import { sampleMachine, samplePath } from '../sample-files'

vi.mock('next/navigation', () => ({ useRouter: () => ({ push: () => {}, refresh: () => {} }) }))

const NAME = 'press-all-sensors'
const site = siteSchema.parse({
  budget: 4000,
  cooling: { electricPerHeat: 0.3 },
  tariff: { demand: { pricePerKWMonth: 9, windowMinutes: 5 } },
  optionMaintenance: { 'vent-relief-at-idle': [10, 20, 40] },
})
let result: Result
let figures: ReadonlySet<string>

beforeAll(async () => {
  const machine = sampleMachine(NAME)
  const options = { fileName: NAME, machine, timeZone: site.timeZone }
  const analysed = analyse(await readLog(createReadStream(samplePath(`${NAME}.csv`)), options), machine, site)
  result = inWords(analysed.analysis)
  figures = new Set(figuresOf(analysed.analysis, analysed.grounds))
}, 60_000)

const PLACE = { machineId: 'press', logId: 'log', revision: '', confirmed: null }
const best = () => result.options[0]
const detail = (id: string, place: OptionPlace = PLACE) => {
  const option = result.options.find((one) => one.id === id)
  if (!option) throw new Error(id)
  return renderToStaticMarkup(<OptionDetail option={option} result={result} place={place} />)
}

describe('an option in money', () => {
  it('shows cooling, demand charge and upkeep where the site has them, and not where it has none', () => {
    const vent = result.options.find(({ id }) => id === 'vent-relief-at-idle')
    if (!vent) throw new Error('listed always')
    const names = optionFigures(vent, result).map(({ name }) => name)
    for (const start of ['Electricity of cooling', 'Demand charge', 'More upkeep', 'Payback with interest']) {
      expect(
        names.some((name) => name.startsWith(start)),
        start,
      ).toBe(true)
    }
    const plain = optionFigures({ ...vent, savedCoolingKWhPerYear: null }, { site: siteSchema.parse({}) })
    expect(plain.map(({ name }) => name).join()).not.toMatch(/of cooling|Demand charge|More upkeep/u)
  })
  it('opens only figures that can be explained', () => {
    const shown = result.options
      .filter(({ feasible }) => feasible)
      .flatMap((option) => optionFigures(option, result))
      .filter(({ estimate, text }) => estimate || (text && text !== 'no data'))
    expect(shown.filter(({ figure }) => !figures.has(figure))).toEqual([])
  })
})

describe('the tornado', () => {
  it('has a row for each swing, widest first, with units, and every row can be explained', () => {
    const { rows, least, most } = tornadoRows(best(), result.site)
    expect(rows.length).toBe(best().tornado?.length)
    for (const { low, high, lowAt, highAt, figure } of rows) {
      expect(low).toBeGreaterThanOrEqual(least)
      expect(high).toBeLessThanOrEqual(most)
      expect(`${lowAt} ${highAt}`).toMatch(/EUR|h\/yr|kWh\/yr|% a year|years/u)
      expect(figures.has(figure), figure).toBe(true)
    }
  })
  it('says in words what the worth hangs on most', () => {
    const { rows } = tornadoRows(best(), result.site)
    expect(detail(best().id)).toContain(`Most on ${rows[0].name.toLowerCase()}`)
  })
})

describe('what a person must confirm', () => {
  it('stands with an option that lowers a pressure, with a way to the set-up, and not with others', () => {
    const vent = detail('vent-relief-at-idle')
    expect(vent).toContain('To confirm before any pressure is lowered')
    expect(vent).toContain('/machines/press/setup#confirmed')
    expect(detail('efficient-motor')).not.toContain('To confirm before')
  })
  it('says who confirmed it and when, and what hangs on the pressure', () => {
    const confirmed = {
      highestLoadBar: 170,
      by: 'A. Fitter',
      on: '2026-03-31',
      hangsOnPressure: ['clamps' as const],
    }
    const vent = detail('vent-relief-at-idle', { ...PLACE, confirmed })
    for (const text of ['Confirmed by A. Fitter', '31 Mar 2026', '170', 'clamps'])
      expect(vent).toContain(text)
    expect(vent).not.toContain('To confirm before')
    expect(detail('efficient-motor', { ...PLACE, confirmed })).not.toContain('A. Fitter')
    // A drive keeps the relief shut, which lowers the pressure of steps that had it open.
    const nothing = { ...confirmed, hangsOnPressure: [] }
    for (const id of ['vent-relief-at-idle', 'high-low-pumps', 'variable-speed-drive'])
      expect(detail(id, { ...PLACE, confirmed: nothing }), id).toContain(
        'nothing else hangs on this pressure',
      )
  })
  it('shows how flat the best of each searched setting is, with a curve and its twin', () => {
    const pair = detail('high-low-pumps')
    expect(pair.match(/<svg class="search"/gu)).toHaveLength(2)
    expect(pair).toMatch(/stays within one point of the most|Most is saved at/u)
    expect(pair).toContain('Could the machine work with it')
  })
})

describe('options together', () => {
  it('show every step with what it adds, the best set for the budget and the curve with its twin', () => {
    const page = renderToStaticMarkup(<Combinations result={result} logId="log" />)
    expect(page).toContain('Saves most energy for 4,000 EUR')
    expect(page).toContain('What each further kWh costs')
    expect(page).toContain('role="img"')
    const steps = result.combinations.reduce((sum, { steps: of }) => sum + of.length, 0)
    const rows = page.match(/<th scope="row">\d\. /gu) ?? []
    expect(rows.length).toBe(steps + (result.bestUnderBudget?.steps.length ?? 0))
  })
  it('lay the curve out along the energy that each step adds', () => {
    const { steps, wholeKWh, pricePerKWh } = costCurve(result)
    steps.forEach(({ fromKWh, toKWh, addedKWh }, k) => {
      expect(fromKWh).toBe(k === 0 ? 0 : steps[k - 1].toKWh)
      expect(toKWh - fromKWh).toBeCloseTo(Math.max(0, addedKWh), 6)
    })
    expect(steps.at(-1)?.toKWh).toBe(wholeKWh)
    expect(pricePerKWh).toBeCloseTo(0.2, 9)
  })
})
