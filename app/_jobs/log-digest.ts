import { bestOption } from '@/app/_server/views/best-option'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { type LogAddress, listUndigested, type NewLogDigest, saveLogDigest } from '@/db/queries/log-digests'
import { saveMonthDigests } from '@/db/queries/month-digests'
import { listLogMonthTotals } from '@/db/queries/month-totals'
import { type Analysis, analysisSchema, type Note } from '@/lib/contract/result'
import { monthDigests } from '@/lib/months/month-digest'
import { choicesOf } from '@/lib/portfolio/choice'
import { refreshMachineMonths } from './machine-months'

/** What lists of many machines need of an analysis. */
export function digestOf(analysis: Analysis): NewLogDigest {
  const { ledgerKWh, log, meterSharesKWh, cycles, model, options } = analysis
  const best = bestOption(options)
  const choices = choicesOf(analysis)
  const wanted = new Set(choices.flatMap((choice) => choice.options))
  const cautions = options
    .filter(({ id }) => wanted.has(id))
    .map((option): [string, Note[]] => [option.id, [...option.cautions, ...option.toConfirm]])
  return {
    figures: {
      inputKWh: ledgerKWh.electricIn,
      shares: meterSharesKWh,
      kWhPerCycle: cycles.kWhPerCycle,
    },
    modelTrusted: model.trusted,
    problems: log.problems,
    best: best && {
      id: best.id,
      savedKWhPerYear: best.savedKWhPerYear,
      savedCostPerYear: best.savedCostPerYear,
      savedKgCO2PerYear: best.savedKgCO2PerYear,
      paybackYears: best.paybackYears,
      netPresentValue: best.netPresentValue,
      investment: best.investment,
      investmentIsPlaceholder: best.investmentIsPlaceholder,
    },
    choices,
    cautions: Object.fromEntries(cautions),
  }
}

/** Months count their logs by these, also logs of which nothing else is known. */
async function digestMonthsOf(db: Database, key: LogAddress): Promise<void> {
  const digests = monthDigests(await listLogMonthTotals(db, key))
  await saveMonthDigests(db, key, digests)
  await refreshMachineMonths(
    db,
    key,
    digests.map(({ month }) => month),
  )
}

/** Writes the digests of analyses that were stored before there were any; those of an earlier engine wait for it. */
export async function digestOldAnalyses(db: Database): Promise<void> {
  for (const { hasMonths, ...key } of await listUndigested(db)) {
    if (!hasMonths) await digestMonthsOf(db, key)
    const found = await findAnalysis(db, key)
    const readable = found && analysisSchema.safeParse(found.analysis)
    if (!readable?.success) continue
    await db.transaction((tx) => saveLogDigest(tx, key, digestOf(readable.data)))
  }
}
