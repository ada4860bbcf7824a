import type { Site } from '@/lib/contract/site'
import { type NamedMachine, plannedHoursOf } from '@/lib/economics/planned-time'
import { type KindTable, meanTable, unloggedFactor } from './kind-table'

/** A month of the machine that another is held against; several are their mean. */
export interface ReferenceMonths {
  readonly months: readonly { readonly month: string; readonly table: KindTable }[]
}

/** What whole months of a machine, measured and scaled to what each had planned, are in the mean, kind by kind. */
export const referenceTable = ({ months }: ReferenceMonths, machine: NamedMachine, site: Site): KindTable =>
  meanTable(
    months.map(({ table }) => table),
    months.map(({ month, table }) => 1 + unloggedFactor(table, plannedHoursOf(month, machine, site))),
  )
