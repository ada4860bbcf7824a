import type { Site } from '@/lib/contract/site'
import type { NamedMachine } from '@/lib/economics/planned-time'
import { FIGURE_COUNT } from './figures'
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
  if (months.length === 1) return months[0]
  const share = 1 / months.length
  const names = [...new Set(months.flatMap((kinds) => kinds.map(({ kind }) => kind)))]
  return names.map((kind) => {
    const mean = { kind, seconds: 0, kWh: nothing(), cost: nothing(), heatKWh: 0 }
    for (const kinds of months) {
      const one = kinds.find((each) => each.kind === kind)
      if (!one) continue
      mean.seconds += one.seconds * share
      mean.heatKWh += one.heatKWh * share
      addShare(mean.kWh, one.kWh, share)
      addShare(mean.cost, one.cost, share)
    }
    return mean
  })
}

const nothing = () => new Array<number | null>(FIGURE_COUNT).fill(0)

function addShare(sum: (number | null)[], values: readonly (number | null)[], share: number): void {
  for (let k = 0; k < sum.length; k++) {
    const [held, value] = [sum[k], values[k]]
    sum[k] = held === null || value === null ? null : held + value * share
  }
}
