import type { PhaseKind } from '@/lib/contract/result'
import type { AccountSeries } from '@/lib/ledger/account-series'
import type { RolledAnalysis } from '@/lib/months/rollup'
import { heldAccount } from '../../invented/held-account'

export interface Row {
  readonly kind: PhaseKind
  readonly holdS: number
  /** W over relief, unloading, metering, work; NaN metering and work where not separable. */
  readonly relief: number
  readonly unloading?: number
  readonly metering?: number
  readonly work?: number
  /** Seconds without samples before this row. */
  readonly gapBeforeS?: number
}

const MOTOR_LOSS_W = 500
const PUMP_LOSS_W = 700
const UNACCOUNTED_W = -40

/** A read log and its analysis with a closing account, one sample a row. */
export function logOf(rows: readonly Row[], startedAt: string | null, cycles = 0) {
  const timeS: number[] = []
  let t = 0
  for (const row of rows) {
    t += row.gapBeforeS ?? 0
    timeS.push(t)
    t += row.holdS
  }
  const relief = rows.map((row) => row.relief)
  const unloading = rows.map((row) => row.unloading ?? 0)
  const metering = rows.map((row) => row.metering ?? 0)
  const work = rows.map((row) => row.work ?? 0)
  const intoSystem = rows.map((_, i) => (Number.isNaN(metering[i]) ? 1000 : metering[i] + work[i]))
  const fixed = MOTOR_LOSS_W + PUMP_LOSS_W + UNACCOUNTED_W
  const column = (values: number[]) => Float64Array.from(values)
  const log = {
    trace: {
      timeS: column(timeS),
      holdS: column(rows.map((row) => row.holdS)),
      startedAtMs: startedAt === null ? null : Date.parse(startedAt),
    },
  }
  const series: AccountSeries = {
    electricIn: column(rows.map((_, i) => fixed + relief[i] + unloading[i] + intoSystem[i])),
    motorLoss: column(rows.map(() => MOTOR_LOSS_W)),
    pumpLoss: column(rows.map(() => PUMP_LOSS_W)),
    overRelief: column(relief),
    unloading: column(unloading),
    intoSystem: column(intoSystem),
    metering: column(metering),
    work: column(work),
    unaccounted: column(rows.map(() => UNACCOUNTED_W)),
  }
  const kinds = rows.map((row) => row.kind)
  const analysed: RolledAnalysis = {
    analysis: { cycles: { count: cycles } },
    account: heldAccount(kinds, series, log.trace),
  }
  return { log, analysed }
}
