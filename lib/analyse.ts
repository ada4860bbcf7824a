import type { Machine } from '@/lib/contract/machine'
import type { Analysis } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { ReadLog } from '@/lib/import/report'
import type { AccountSeries } from '@/lib/ledger/account'

export interface Analysed {
  readonly analysis: Analysis
  /** The account sample by sample; `metering` and `work` are NaN where not separable. */
  readonly series: AccountSeries
}

/**
 * One recording of one machine, from samples to ranked options. Pure: same input, same numbers.
 * @throws TankwardError where the channels cannot carry an account
 */
export function analyse(log: ReadLog, machine: Machine, site: Site): Analysed {
  throw new Error(`not built yet: ${log.report.rowsRead} ${machine.name} ${site.name}`)
}
