import { describeWarnings } from '@/app/_words/describe-proof'
import type { Database } from '@/db/client'
import { listEvidence } from '@/db/queries/analyses'
import { listMachineTrials } from '@/db/queries/trials'
import type { TrialRow } from '@/db/schema/trials'
import type { LogEvidence } from '@/lib/proof/evidence'
import { sameDayTrial } from '@/lib/proof/trial'
import type { TrialAnswer } from './measure-shapes'
import { trialSentence } from './proof-sentences'

export function trialAnswer(row: TrialRow, evidence: LogEvidence | null): TrialAnswer {
  const { id, logId, atS, cycles, measureId, note, author } = row
  const trial = evidence && sameDayTrial(evidence, atS, cycles)
  return {
    id,
    url: `/api/logs/${logId}/trials/${id}`,
    logId,
    atS,
    cycles,
    measureId,
    note,
    author,
    trial: trial && { ...trial, message: trialSentence(trial), warnings: describeWarnings(trial.warnings) },
  }
}

/** Trials of a machine's logs with what they show, narrowed by log or measure. */
export async function trialAnswers(
  db: Database,
  machineId: string,
  isWanted: (row: TrialRow) => boolean,
): Promise<TrialAnswer[]> {
  const rows = (await listMachineTrials(db, machineId)).filter(isWanted)
  if (rows.length === 0) return []
  const evidence = new Map((await listEvidence(db, machineId)).map((one) => [one.logId, one.evidence]))
  return rows.map((row) => trialAnswer(row, evidence.get(row.logId) ?? null))
}
