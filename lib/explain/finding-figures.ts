import type { Analysis } from '@/lib/contract/result'
import { estimated, partsOf } from './account-figures'
import type { Grounds } from './grounds'
import { type Figured, input } from './told'
import { priceInput, yearInputs } from './year-inputs'

/** Energy and cost of a finding; the path ends in its code and the figure's name. */
export function findingFigure(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  const [code, name] = path.slice(-2)
  const finding = analysis.findings.find((one) => one.code === code)
  if (!finding) return null
  const figure = path.join('.')
  const place = path.slice(0, -1).join('.')
  const inputs = Object.entries(finding.values).flatMap(([key, value]) =>
    value === null ? [] : [input(key, value, '', 'fitted', place)],
  )
  const common = { rulesOf: ['reliefFlow'] as const }
  if (name === 'kWhInLog') {
    return {
      ...estimated(finding.kWhInLog, 'kWh', partsOf(grounds, figure)),
      ...common,
      formula: 'finding-in-log',
      inputs,
    }
  }
  if (name !== 'costPerYear') return null
  const { currency } = analysis.site
  return {
    ...estimated(finding.costPerYear, `${currency}/yr`, partsOf(grounds, figure)),
    ...common,
    formula: 'finding-cost-per-year',
    inputs: [...inputs, ...yearInputs(grounds), priceInput(grounds, currency)],
    exact: ['planned-hours', 'running-hours', 'price'],
  }
}

/** Paths of the figures of all findings, where they stand in the result. */
export function findingPaths({ findings, reliefFit }: Analysis): string[] {
  const under = (start: string, list: readonly { readonly code: string }[]) =>
    list.flatMap(({ code }) => ['kWhInLog', 'costPerYear'].map((name) => `${start}.${code}.${name}`))
  return [...under('findings', findings), ...under('reliefFit.findings', reliefFit?.findings ?? [])]
}
