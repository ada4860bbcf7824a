import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import { type Analysis, type LedgerKWh, PHASE_KINDS, type Problem } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { unknownOptionCosts } from '@/lib/economics/option-costs'
import { siteMet } from '@/lib/economics/tariff-version'
import { type Grounds, groundsOf } from '@/lib/explain/grounds'
import type { ReadLog } from '@/lib/import/report'
import type { Account } from '@/lib/ledger/account'
import { auxiliariesKWh, ownCircuitsKWh } from '@/lib/ledger/beside'
import { cycleFigures } from '@/lib/ledger/cycle-energy'
import { ledgerKWh, meterSharesKWh } from '@/lib/ledger/estimates'
import { durationOf, IDLE_KINDS, idleByLongestHold, idleSamplingShareSd } from '@/lib/ledger/idle'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { levelProblems } from '@/lib/ledger/level-problems'
import { type LogSpread, logSpread } from '@/lib/ledger/log-spread'
import { checkModel } from '@/lib/ledger/model-check'
import { sensorOffsets } from '@/lib/ledger/offsets'
import { overYear } from '@/lib/ledger/over-year'
import { ledgerProblems } from '@/lib/ledger/problems'
import { pumpEfficiencyPlane } from '@/lib/ledger/pump-efficiency'
import { volumetricEfficiencies } from '@/lib/ledger/pump-wear'
import { type ReactivePower, reactivePower } from '@/lib/ledger/reactive'
import { findingsBeyondRelief, reliefFit } from '@/lib/ledger/relief-findings'
import { sensorProblems } from '@/lib/ledger/sensor-problems'
import { notSeparable } from '@/lib/ledger/separable'
import { meanPricePerKWh } from '@/lib/months/recording-price'
import { type RankedOptions, type ReplayOfOptions, rankReplayed } from '@/lib/options/rank'
import type { YearBasis } from '@/lib/options/year-saving'
import { findCycles } from '@/lib/phases/cycles'
import type { LogEvidence } from '@/lib/proof/evidence'
import { logEvidence } from '@/lib/proof/log-evidence'
import { readerOf } from '@/lib/samples/samples'
import { J_PER_KWH, S_PER_HOUR } from '@/lib/units'

export interface Analysed {
  readonly analysis: Analysis
  readonly account: Account
  /** What the figures rest on beyond what the result says, for their explanations. */
  readonly grounds: Grounds
  /** What it says for proofs of savings. */
  readonly evidence: LogEvidence
  /** How sure its energies are, told apart by what other recordings of the machine share. */
  readonly spread: LogSpread
  /** Null where power factor cannot be had from what is logged. */
  readonly reactive: ReactivePower | null
}

function ledgerByPhase(ledger: Ledger): Record<string, LedgerKWh & { hours: number }> {
  const { steps } = ledger.segmentation
  const seen = PHASE_KINDS.filter((kind) => steps.some((step) => step.kind === kind))
  return Object.fromEntries(
    seen.map((kind) => [
      kind,
      { ...ledgerKWh(ledger, [kind]), hours: durationOf(steps, [kind]) / S_PER_HOUR },
    ]),
  )
}

/** Costs entered for options that do not exist: most likely a slip of the pen. */
const siteProblems = (site: Site): Problem[] =>
  unknownOptionCosts(site).map((option) => ({
    code: 'unknown-option-cost',
    line: null,
    column: null,
    count: 1,
    values: { option },
  }))

/** A stuck sensor that the import suspected and the account took out is one fault: what was done about it is said. */
const isNamedAgain = ({ code, column }: Problem, faults: readonly Problem[]) =>
  code === 'stuck-sensor' && faults.some((fault) => fault.code === 'sensor-stuck' && fault.column === column)

const instant = (epochMs: number | null) => (epochMs === null ? null : new Date(epochMs).toISOString())

/** What turns a recording's savings into a year's money. */
export function yearBasisOf(ledger: Ledger, site: Site): YearBasis {
  const { steps, phases } = ledger.segmentation
  const runningKinds = PHASE_KINDS.filter((kind) => kind !== 'stopped' && kind !== 'starting')
  return {
    site,
    runningHours: durationOf(steps, runningKinds) / S_PER_HOUR,
    pricePerKWh: meanPricePerKWh(ledger.account, ledger.trace, site),
    cycles: findCycles(phases),
  }
}

/** One recording of one machine in two stages: the second takes as long as the first and needs what that holds. */
export interface AnalysedInStages {
  readonly account: Account
  /** All that does not need the options: where a result would have them, it has none. */
  accounted(): Analysed
  /** The whole result. */
  withOptions(): Analysed
}

const NO_OPTIONS: RankedOptions = {
  options: [],
  ranking: 'energy',
  combinations: [],
  bestUnderBudget: null,
  marginalCostCurve: [],
}

/** What a ledger gives, worked out once for both stages. */
function resultsOf(
  { trace, report }: ReadLog,
  machine: Machine,
  site: Site,
  { durationS, endedAtMs }: { readonly durationS: number; readonly endedAtMs: number | null },
  ledger: Ledger,
): Omit<AnalysedInStages, 'account'> {
  const { phases } = ledger.segmentation
  const faults = sensorProblems(ledger)
  const year = yearBasisOf(ledger, site)
  const { cycles, runningHours, pricePerKWh } = year
  const perYear = runningHours > 0 ? site.plannedHoursPerYear / runningHours : 0
  const idleKWh = ledgerKWh(ledger, IDLE_KINDS).electricIn
  const idleSpread = idleSamplingShareSd(ledger, cycles)
  const money = { perLoggedJ: (perYear * pricePerKWh) / J_PER_KWH }
  const relief = reliefFit(ledger, money)
  const figures: Omit<Analysis, keyof RankedOptions> = {
    version: 1,
    machine: { name: machine.name },
    site,
    log: {
      rowsRead: report.rowsRead,
      rowsUsed: report.rowsUsed,
      rowsRejected: report.rowsRejected,
      startedAt: instant(trace.startedAtMs),
      endedAt: instant(endedAtMs),
      durationS,
      sampleIntervalS: trace.sampleIntervalS,
      gaps: [...trace.gaps],
      channels: [...report.channels],
      offsets: sensorOffsets(ledger, trace.channels),
      problems: [
        ...report.problems.filter((problem) => !isNamedAgain(problem, faults)),
        ...ledgerProblems(ledger),
        ...faults,
        ...levelProblems(ledger.segmentation.reportedLevels),
        ...siteProblems(site),
      ],
    },
    phases: [...phases],
    corrections: [...ledger.segmentation.corrections],
    levels: ledger.segmentation.reportedLevels,
    cycles: cycleFigures(ledger, cycles),
    ledgerKWh: ledgerKWh(ledger),
    ledgerByPhase: ledgerByPhase(ledger),
    meterSharesKWh: meterSharesKWh(ledger),
    auxiliariesKWh: auxiliariesKWh(ledger),
    ownCircuitsKWh: ownCircuitsKWh(ledger),
    notSeparable: notSeparable(ledger),
    idle: {
      hours: durationOf(ledger.segmentation.steps, IDLE_KINDS) / S_PER_HOUR,
      electricKWh: idleKWh,
      costPerYear: overYear(idleKWh, perYear * pricePerKWh, {
        samplingShareSd: idleSpread,
        plannedHoursLimitShare: site.plannedHoursLimitShare,
      }),
      byLongestHoldS: idleByLongestHold(ledger),
    },
    reliefFit: relief,
    findings: [...(relief?.findings ?? []), ...findingsBeyondRelief(ledger, money)],
    pumpHealth: {
      volumetricEfficiency: volumetricEfficiencies(ledger),
      efficiencyPlane: pumpEfficiencyPlane(ledger),
    },
    model: checkModel(ledger),
  }
  const beside = {
    account: ledger.account,
    evidence: logEvidence(ledger, cycles),
    spread: logSpread(ledger),
    reactive: reactivePower(ledger),
  }
  const put = (ranked: RankedOptions, replays: readonly ReplayOfOptions[]): Analysed => {
    const analysis: Analysis = { ...figures, ...ranked }
    const grounds = groundsOf(ledger, analysis, site, replays, { runningHours, pricePerKWh, idleSpread })
    return { ...beside, analysis, grounds }
  }
  return {
    accounted: () => put(NO_OPTIONS, []),
    withOptions: () => {
      const { ranked, replays } = rankReplayed(ledger, year)
      return put(ranked, replays)
    },
  }
}

/**
 * One recording of one machine, from samples to the account and on to ranked options. Pure: same input, same numbers.
 * @param corrections what a person says of stretches of the recording, in the order it was said
 * @throws TankwardError where the channels cannot carry an account (`needs-pump-pressure`), or a correction
 * lies outside of the recording (`correction-outside`, `correction-without-samples`)
 */
export function analyseInStages(
  log: ReadLog,
  machine: Machine,
  settings: Site,
  corrections: readonly Correction[] = [],
): AnalysedInStages {
  const { trace } = log
  const lastS = readerOf(trace.timeS).at(trace.timeS.length - 1)
  const durationS = lastS + trace.sampleIntervalS
  const endedAtMs = trace.startedAtMs === null ? null : trace.startedAtMs + durationS * 1000
  const site = siteMet(settings, trace.startedAtMs, endedAtMs)
  const ledger = accountFor(trace, machine, corrections)
  let made: Omit<AnalysedInStages, 'account'> | null = null
  const results = () => {
    made ??= resultsOf(log, machine, site, { durationS, endedAtMs }, ledger)
    return made
  }
  return {
    account: ledger.account,
    accounted: () => results().accounted(),
    withOptions: () => results().withOptions(),
  }
}

/** The same at once: the whole result of one recording of one machine. */
export const analyse = (...of: Parameters<typeof analyseInStages>): Analysed =>
  analyseInStages(...of).withOptions()
