import type { Account } from '@/lib/ledger/account'
import { type AccountSeries, accountArrays } from '@/lib/ledger/account-series'

/** The account of every sample of a recording, W. */
export function wholeAccount(account: Account): AccountSeries {
  const count = account.steps[account.steps.length - 1].to
  const series = accountArrays(count)
  account.fill(0, count, series)
  return series
}
