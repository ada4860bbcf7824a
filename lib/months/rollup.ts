import { type PhaseKind, STREAMS } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { TankwardError } from '@/lib/errors'
import type { AccountSeries } from '@/lib/ledger/account'
import { J_PER_KWH } from '@/lib/units'
import { calendarStretches } from './calendar'

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

/** The part of a read log that a roll-up needs. */
export interface RolledLog {
  readonly trace: {
    readonly timeS: Float64Array
    readonly holdS: Float64Array
    readonly startedAtMs: number | null
  }
}

/** The part of an analysis that a roll-up needs. */
export interface RolledAnalysis {
  readonly analysis: {
    readonly phases: readonly { readonly kind: PhaseKind; readonly startS: number; readonly endS: number }[]
    readonly cycles: { readonly count: number }
  }
  readonly series: AccountSeries
}

const ACCOUNT = ['electricIn', ...STREAMS] as const

interface Sums {
  readonly month: string
  readonly phaseKind: PhaseKind
  seconds: number
  cost: number
  /** In the order of ACCOUNT. */
  readonly energyJ: Float64Array
}

/**
 * Splits a recording's account to local months at the site and kinds of phase. Linear in the samples; a
 * sample that holds across a month's or a price's change is divided there. A log without a date belongs
 * to no month: the list is empty.
 * @throws TankwardError `no-phases` where samples come without phases
 */
export function rollUp(log: RolledLog, analysed: RolledAnalysis, site: Site): MonthTotals[] {
  const { timeS, holdS, startedAtMs } = log.trace
  const { phases, cycles } = analysed.analysis
  const count = timeS.length
  if (startedAtMs === null || count === 0) return []
  if (phases.length === 0) throw new TankwardError('no-phases', { samples: count })

  const columns = ACCOUNT.map((name) => analysed.series[name])
  const stretches = calendarStretches(startedAtMs, timeS[count - 1] + holdS[count - 1], site)
  const rows = new Map<string, Sums>()
  let phase = 0
  let stretch = 0
  let sums = sumsOf(rows, stretches[0].month, phases[0].kind)

  for (let i = 0; i < count; i += 1) {
    let fromS = timeS[i]
    const endS = fromS + holdS[i]
    while (phase < phases.length - 1 && phases[phase + 1].startS <= fromS) phase += 1
    while (stretch < stretches.length - 1 && stretches[stretch].endS <= fromS) stretch += 1
    while (fromS < endS) {
      const { month, endS: stretchEndS, pricePerKWh } = stretches[stretch]
      const isLast = stretch === stretches.length - 1
      const toS = isLast ? endS : Math.min(endS, stretchEndS)
      const { kind } = phases[phase]
      if (sums.month !== month || sums.phaseKind !== kind) sums = sumsOf(rows, month, kind)
      const partS = toS - fromS
      sums.seconds += partS
      sums.cost += ((columns[0][i] * partS) / J_PER_KWH) * pricePerKWh
      for (let c = 0; c < columns.length; c += 1) sums.energyJ[c] += columns[c][i] * partS
      fromS = toS
      if (!isLast && toS === stretchEndS) stretch += 1
    }
  }
  return withCycles([...rows.values()], cycles.count)
}

function sumsOf(rows: Map<string, Sums>, month: string, phaseKind: PhaseKind): Sums {
  const key = `${month} ${phaseKind}`
  const known = rows.get(key)
  if (known) return known
  const fresh = { month, phaseKind, seconds: 0, cost: 0, energyJ: new Float64Array(ACCOUNT.length) }
  rows.set(key, fresh)
  return fresh
}

function withCycles(rows: readonly Sums[], cycleCount: number): MonthTotals[] {
  const runningS = rows.reduce((sum, row) => sum + (row.phaseKind === 'stopped' ? 0 : row.seconds), 0)
  return rows.map(({ month, phaseKind, seconds, cost, energyJ }) => {
    const at = (name: (typeof ACCOUNT)[number]) => energyJ[ACCOUNT.indexOf(name)]
    const known = (name: 'metering' | 'work') => (Number.isNaN(at(name)) ? null : at(name))
    return {
      month,
      phaseKind,
      seconds,
      electricJ: at('electricIn'),
      motorLossJ: at('motorLoss'),
      pumpLossJ: at('pumpLoss'),
      overReliefJ: at('overRelief'),
      unloadingJ: at('unloading'),
      intoSystemJ: at('intoSystem'),
      meteringJ: known('metering'),
      workJ: known('work'),
      unaccountedJ: at('unaccounted'),
      cost,
      cycles: phaseKind === 'stopped' || runningS === 0 ? 0 : (cycleCount * seconds) / runningS,
    }
  })
}
