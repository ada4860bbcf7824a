import type { PhaseKind } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { highestWindowMeanW } from '@/lib/economics/demand'
import { monthOf } from '@/lib/economics/local-time'
import { tariffOn } from '@/lib/economics/tariff-version'
import { ACCOUNT_KEYS } from '@/lib/ledger/account-series'
import type { LogSpread } from '@/lib/ledger/log-spread'
import { eachPiece } from '@/lib/ledger/pieces'
import type { ReactivePower } from '@/lib/ledger/reactive'
import { readerOf } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import { S_PER_MINUTE } from '@/lib/units'
import { type DayStretch, dayStretches, type LeftOut } from './calendar'
import { FIGURES, type Figure } from './figures'
import { addPiece, energyRow, type KindEnergy, noEnergy } from './kind-energy'
import { type MonthSpread, monthSpread } from './month-spread'
import type { RolledAnalysis } from './rollup'
import { classOf, electricOf, type PhaseTotals, wasteOf } from './waste'

const MS_PER_S = 1000
const MONTH_LENGTH = 'YYYY-MM'.length
const ELECTRIC_IN = ACCOUNT_KEYS.indexOf('electricIn')
/** Breaks in a recording shorter than this are none to a calendar. */
const SHORTEST_BREAK_S = 60

/** What a log says of one day: how long the machine ran, and its energies at the meter. */
export interface LogDay {
  /** Local date at the site. */
  readonly date: string
  readonly runningS: number
  /** In kWh, in the order of FIGURES; null where not separable. */
  readonly kWh: readonly (number | null)[]
}

/** Reactive energy where current and power were logged, with the input over the same samples. */
export interface ReactiveEnergy {
  readonly varS: number
  readonly electricJ: number
  readonly isRatedVoltage: boolean
}

/** What a log adds to one month beside its energies: how sure, when, on which days, how high. */
export interface LogMonth {
  readonly month: string
  /** Time that was recorded and counts, epoch ms, in order. */
  readonly spans: readonly { readonly fromMs: number; readonly toMs: number }[]
  readonly days: readonly LogDay[]
  readonly spread: MonthSpread
  /** Highest mean input over a demand window, W; null where none is covered, or nothing is charged. */
  readonly peakW: number | null
  readonly reactive: ReactiveEnergy | null
  /** Hours of it that another recording accounts for. */
  readonly leftOutS: number
}

/** What an analysis gives beside the account. */
export interface WitnessedAnalysis extends RolledAnalysis {
  readonly spread: LogSpread
  readonly reactive: ReactivePower | null
}

/** By kind of phase. */
type Day = Map<PhaseKind, KindEnergy>

/** The months of a log beside their energies; empty without a date. Its parts are cut as `rollUp` cuts them. */
export function logMonths(
  { trace }: { readonly trace: Pick<Trace, 'timeS' | 'holdS' | 'startedAtMs'> },
  analysed: WitnessedAnalysis,
  site: Site,
  leftOut: readonly LeftOut[] = [],
): LogMonth[] {
  const { startedAtMs } = trace
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  const last = timeS.length - 1
  if (startedAtMs === null || last < 0) return []
  const stretches = dayStretches(startedAtMs, timeS.at(last) + holdS.at(last), site.timeZone, leftOut)
  const edgesS = stretches.slice(0, -1).map((stretch) => stretch.endS)
  const days = new Map<string, Day>()
  const leftOutS = new Map<string, number>()
  eachPiece(analysed.account, trace, edgesS, ({ kind, stretch, seconds, energiesJ }) => {
    const { date, counts } = stretches[stretch]
    const month = date.slice(0, MONTH_LENGTH)
    if (!counts) {
      leftOutS.set(month, (leftOutS.get(month) ?? 0) + seconds)
      return
    }
    const day: Day = days.get(date) ?? new Map()
    days.set(date, day)
    const sums = day.get(kind) ?? noEnergy()
    day.set(kind, sums)
    addPiece(sums, seconds, energiesJ)
  })
  const told = [...days].map(([date, day]) =>
    dayOf(
      date,
      [...day].map(([phaseKind, sums]) => ({
        phaseKind,
        seconds: sums.seconds,
        ...energyRow(sums),
        cost: 0,
      })),
    ),
  )
  const spans = recordedSpans(trace, startedAtMs, stretches)
  const reactive = analysed.reactive && reactiveByMonth(analysed, trace, stretches)
  const months = new Set([...told.map(({ date }) => date.slice(0, MONTH_LENGTH)), ...leftOutS.keys()])
  return [...months].map((month) => {
    const own = told.filter(({ date }) => date.startsWith(month))
    const sum = (of: (day: LogDay) => number | null) =>
      own.reduce((total: number | null, day) => {
        const value = of(day)
        return total === null || value === null ? null : total + value
      }, 0)
    return {
      month,
      spans: spans.filter(({ fromMs }) => monthOf(fromMs, site.timeZone) === month),
      days: own,
      spread: monthSpread(
        analysed.spread,
        FIGURES.map((_, k) => sum((day) => day.kWh[k])),
      ),
      peakW: peakOf(analysed, trace, site, month),
      reactive: reactive?.get(month) ?? null,
      leftOutS: leftOutS.get(month) ?? 0,
    }
  })
}

function dayOf(date: string, rows: readonly PhaseTotals[]): LogDay {
  const running = rows.filter((row) => classOf(row) !== 'off')
  const kWh = (figure: Figure) =>
    figure === 'electric' ? electricOf(rows, 0).kWh : (wasteOf(figure, rows, 0)?.kWh ?? null)
  return { date, runningS: running.reduce((sum, row) => sum + row.seconds, 0), kWh: FIGURES.map(kWh) }
}

/** Recorded time that counts, cut at midnights. */
function recordedSpans(
  trace: Pick<Trace, 'timeS' | 'holdS'>,
  startedAtMs: number,
  stretches: readonly DayStretch[],
) {
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  const spans: { fromMs: number; toMs: number }[] = []
  let fromS = timeS.at(0)
  const close = (toS: number) => {
    let beginS = 0
    for (const { endS, counts } of stretches) {
      const [low, high] = [Math.max(fromS, beginS), Math.min(toS, endS)]
      if (counts && low < high)
        spans.push({ fromMs: startedAtMs + low * MS_PER_S, toMs: startedAtMs + high * MS_PER_S })
      beginS = endS
    }
  }
  for (let i = 1; i < timeS.length; i++) {
    const endS = timeS.at(i - 1) + holdS.at(i - 1)
    if (timeS.at(i) - endS < SHORTEST_BREAK_S) continue
    close(endS)
    fromS = timeS.at(i)
  }
  close(timeS.at(timeS.length - 1) + holdS.at(timeS.length - 1))
  return spans
}

function peakOf(
  { account }: RolledAnalysis,
  { timeS: samplesS, startedAtMs }: Pick<Trace, 'timeS' | 'startedAtMs'>,
  site: Site,
  month: string,
): number | null {
  const { demand } = tariffOn(`${month}-01`, site)
  if (!demand || startedAtMs === null) return null
  const timeS = readerOf(samplesS)
  const inMonth = account.steps.flatMap((step, k) =>
    monthOf(startedAtMs + timeS.at(step.from) * MS_PER_S, site.timeZone) === month ? [k] : [],
  )
  const { steps, energiesJ } = account
  return highestWindowMeanW(
    {
      timeS: inMonth.map((k) => timeS.at(steps[k].from)),
      holdS: inMonth.map((k) => steps[k].durationS),
      powerW: inMonth.map((k) =>
        steps[k].durationS > 0 ? energiesJ[k * ACCOUNT_KEYS.length + ELECTRIC_IN] / steps[k].durationS : 0,
      ),
      startedAtMs,
    },
    demand.windowMinutes * S_PER_MINUTE,
  )
}

/** Reactive energy by month; a sample counts where it begins, and only where both readings are there. */
function reactiveByMonth(
  { account, reactive }: WitnessedAnalysis,
  trace: Pick<Trace, 'timeS' | 'holdS'>,
  stretches: readonly DayStretch[],
): Map<string, ReactiveEnergy> {
  const byMonth = new Map<string, ReactiveEnergy>()
  if (!reactive) return byMonth
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  let at = 0
  for (const [k, { from, to, durationS }] of account.steps.entries()) {
    if (!(durationS > 0)) continue
    const meanW = account.energiesJ[k * ACCOUNT_KEYS.length + ELECTRIC_IN] / durationS
    for (let i = from; i < to; i++) {
      while (at < stretches.length - 1 && stretches[at].endS <= timeS.at(i)) at++
      const powerVar = reactive.at(i)
      if (Number.isNaN(powerVar) || !stretches[at].counts) continue
      const month = stretches[at].date.slice(0, MONTH_LENGTH)
      const sum = byMonth.get(month)
      byMonth.set(month, {
        varS: (sum?.varS ?? 0) + powerVar * holdS.at(i),
        electricJ: (sum?.electricJ ?? 0) + meanW * holdS.at(i),
        isRatedVoltage: reactive.isRatedVoltage,
      })
    }
  }
  return byMonth
}
