import type { Site } from '@/lib/contract/site'
import type { NamedMachine } from '@/lib/economics/planned-time'
import { FIGURES } from './figures'
import { monthBasis, wholeKinds } from './month'
import type { MonthSummary } from './summary'

/** A month of the machine that another is held against; several are their mean. */
export interface ReferenceMonths {
  readonly months: readonly { readonly month: string; readonly kinds: Kinds }[]
}

type Kinds = MonthSummary['kinds']

/** What whole months of a machine, measured and scaled to what each had planned, are in the mean, kind by kind. */
export function referenceKinds({ months }: ReferenceMonths, machine: NamedMachine, site: Site): Kinds {
  return meanKinds(
    months.map(({ month, kinds }) => wholeKinds(kinds, monthBasis(month, machine, site).plannedHours)),
  )
}

/** The mean of several months kind by kind; a figure that one of them could not separate is not known. */
function meanKinds(months: readonly Kinds[]): Kinds {
  const share = 1 / months.length
  const names = [...new Set(months.flatMap((kinds) => kinds.map(({ kind }) => kind)))]
  return names.map((kind) => {
    const own = months.flatMap((kinds) => kinds.find((one) => one.kind === kind) ?? [])
    const mean = (values: readonly (number | null)[]) =>
      values.reduce(
        (sum: number | null, value) => (sum === null || value === null ? null : sum + value * share),
        0,
      )
    return {
      kind,
      seconds: own.reduce((sum, one) => sum + one.seconds * share, 0),
      kWh: FIGURES.map((_, k) => mean(own.map((one) => one.kWh[k]))),
      cost: FIGURES.map((_, k) => mean(own.map((one) => one.cost[k]))),
      heatKWh: own.reduce((sum, one) => sum + one.heatKWh * share, 0),
    }
  })
}
