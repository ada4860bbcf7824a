import type { CorrectionRow } from '@/db/schema/corrections'
import type { AppliedCorrection } from '@/lib/contract/result'
import type { CorrectionAnswer } from './shapes'

const isSame = (a: AppliedCorrection, b: Pick<CorrectionRow, 'startS' | 'endS' | 'kind'>) =>
  a.startS === b.startS && a.endS === b.endS && a.kind === b.kind

/** Whether figures were made with these corrections in this order. */
export function isUpToDate(rows: readonly CorrectionRow[], applied: readonly AppliedCorrection[]): boolean {
  return rows.length === applied.length && rows.every((row, index) => isSame(applied[index], row))
}

export function correctionAnswer(row: CorrectionRow, applied: AppliedCorrection | null): CorrectionAnswer {
  const { id, startS, endS, kind, author, reason } = row
  return {
    id,
    url: `/api/logs/${row.logId}/corrections/${id}`,
    startS,
    endS,
    startAt: row.startAt?.toISOString() ?? null,
    endAt: row.endAt?.toISOString() ?? null,
    kind,
    author,
    reason,
    createdAt: row.createdAt.toISOString(),
    applied: applied && { foundS: applied.foundS, inForceS: applied.inForceS },
  }
}

/** Corrections as the API and the pages give them, each with what it does in the stored figures. */
export function correctionAnswers(
  rows: readonly CorrectionRow[],
  applied: readonly AppliedCorrection[],
): CorrectionAnswer[] {
  const left = [...applied]
  return rows.map((row) => {
    const at = left.findIndex((one) => isSame(one, row))
    return correctionAnswer(row, at < 0 ? null : left.splice(at, 1)[0])
  })
}
