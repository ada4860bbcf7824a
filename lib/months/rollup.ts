import type { PhaseKind } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { Account } from '@/lib/ledger/account'
import { ACCOUNT_KEYS } from '@/lib/ledger/account-series'
import { eachPiece } from '@/lib/ledger/pieces'
import { readerOf } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import { J_PER_KWH } from '@/lib/units'
import { calendarStretches, type LeftOut } from './calendar'
import { addPiece, energyRow, type KindEnergy, noEnergy } from './kind-energy'

/** What one log adds to one local month in one kind of phase: numerators only, so any sum of rows is right. */
export interface MonthTotals {
  /** Local month at the site, `YYYY-MM`. */
  readonly month: string
  readonly phaseKind: PhaseKind
  readonly seconds: number
  readonly electricJ: number
  readonly motorLossJ: number
  readonly pumpLossJ: number
  readonly overReliefJ: number
  readonly unloadingJ: number
  readonly intoSystemJ: number
  /** Null where any part of it could not be separated. */
  readonly meteringJ: number | null
  readonly workJ: number | null
  readonly unaccountedJ: number
  /** Energy cost of the electric input in the site's currency. */
  readonly cost: number
  /** The log's cycles, spread over its rows by running time: whole only in the sum over a log's rows. */
  readonly cycles: number
}

/** The part of an analysis that a roll-up needs. */
export interface RolledAnalysis {
  readonly analysis: { readonly cycles: { readonly count: number } }
  readonly account: Account
}

interface Sums extends KindEnergy {
  readonly month: string
  readonly phaseKind: PhaseKind
  cost: number
}

const ELECTRIC_IN = ACCOUNT_KEYS.indexOf('electricIn')

/**
 * Splits a recording's account to local months at the site and kinds of phase. A sample that holds across a
 * month's or a price's change is divided there. A log without a date belongs to no month: the list is empty.
 * @param leftOut time that another recording of the machine accounts for: nothing of it counts here
 */
export function rollUp(
  { trace }: { readonly trace: Pick<Trace, 'timeS' | 'holdS' | 'startedAtMs'> },
  { analysis, account }: RolledAnalysis,
  site: Site,
  leftOut: readonly LeftOut[] = [],
): MonthTotals[] {
  const { startedAtMs } = trace
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  const last = timeS.length - 1
  if (startedAtMs === null || last < 0) return []
  const stretches = calendarStretches(startedAtMs, timeS.at(last) + holdS.at(last), site, leftOut)
  const rows = new Map<string, Sums>()
  const edgesS = stretches.slice(0, -1).map((stretch) => stretch.endS)
  let leftOutRunningS = 0
  eachPiece(account, trace, edgesS, ({ kind, stretch, seconds, energiesJ }) => {
    const { month, pricePerKWh, counts } = stretches[stretch]
    if (!counts) {
      if (kind !== 'stopped') leftOutRunningS += seconds
      return
    }
    const sums = sumsOf(rows, month, kind)
    addPiece(sums, seconds, energiesJ)
    sums.cost += (energiesJ[ELECTRIC_IN] / J_PER_KWH) * pricePerKWh
  })
  return withCycles([...rows.values()], analysis.cycles.count, leftOutRunningS)
}

function sumsOf(rows: Map<string, Sums>, month: string, phaseKind: PhaseKind): Sums {
  const key = `${month} ${phaseKind}`
  const known = rows.get(key)
  if (known) return known
  const fresh = { month, phaseKind, cost: 0, ...noEnergy() }
  rows.set(key, fresh)
  return fresh
}

function withCycles(rows: readonly Sums[], cycleCount: number, leftOutRunningS: number): MonthTotals[] {
  const counted = rows.reduce((sum, row) => sum + (row.phaseKind === 'stopped' ? 0 : row.seconds), 0)
  const runningS = counted + leftOutRunningS
  return rows.map((row) => {
    const { month, phaseKind, seconds, cost } = row
    const cycles = phaseKind === 'stopped' || runningS === 0 ? 0 : (cycleCount * seconds) / runningS
    return { month, phaseKind, seconds, ...energyRow(row), cost, cycles }
  })
}
