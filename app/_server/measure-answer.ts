import { describeWarnings } from '@/app/_words/describe-proof'
import { optionTitle } from '@/app/_words/en/option-title'
import type { Database } from '@/db/client'
import { findMachine } from '@/db/queries/machines'
import { findMeasure, type ListedMeasure, listMeasureEvents, listMeasureQuotes } from '@/db/queries/measures'
import type { MeasureRow } from '@/db/schema/measures'
import { NEXT_STATES } from '@/lib/contract/measure'
import { type Proof, proofSetupSchema } from '@/lib/contract/proof'
import { ApiProblem } from './api-problem'
import type { MeasureAnswer, MeasureSummary, ProofAnswer } from './measure-shapes'
import { loggedSentence, verdictSentence } from './proof-sentences'

export function proofAnswer(proof: Proof): ProofAnswer {
  return {
    ...proof,
    warnings: describeWarnings(proof.warnings),
    message: verdictSentence(proof),
    loggedMessage: loggedSentence(proof),
  }
}

export const measureTitle = ({ title, optionId }: Pick<MeasureRow, 'title' | 'optionId'>): string =>
  title ?? (optionId ? optionTitle(optionId) : '')

export function measureSummary(row: ListedMeasure): MeasureSummary {
  const { id, machineId, machineName, line, optionId, state, owner, expected, lastEvent } = row
  return {
    id,
    url: `/api/measures/${id}`,
    machineId,
    machineName,
    line,
    optionId,
    title: measureTitle(row),
    state,
    on: lastEvent.on,
    owner,
    expected,
    proof: lastEvent.proof && proofAnswer(lastEvent.proof),
  }
}

/** The measure, or an ApiProblem `unknown-measure`. */
export async function needMeasure(db: Database, id: string): Promise<MeasureRow> {
  const row = id.includes('\0') ? null : await findMeasure(db, id)
  if (!row) throw new ApiProblem('unknown-measure', { id })
  return row
}

/** A measure with its whole history and its quotes. */
export async function measureAnswer(db: Database, row: MeasureRow): Promise<MeasureAnswer> {
  const key = { machineId: row.machineId, measureId: row.id }
  const [events, quotes, machine] = [
    await listMeasureEvents(db, key),
    await listMeasureQuotes(db, key),
    await findMachine(db, row.machineId),
  ]
  const last = events[events.length - 1]
  const { seq, on, reason, author, proof } = last
  const lastEvent = { seq, on, reason, author, proof }
  const listed = { ...row, machineName: machine?.name ?? '', line: machine?.line ?? null, lastEvent }
  return {
    ...measureSummary(listed),
    notes: row.notes,
    setup: proofSetupSchema.parse(row.setup),
    next: [...NEXT_STATES[row.state]],
    events: events.map((event) => ({
      seq: event.seq,
      state: event.state,
      on: event.on,
      reason: event.reason,
      author: event.author,
      enteredAt: event.createdAt.toISOString(),
      proof: event.proof && proofAnswer(event.proof),
    })),
    quotes: quotes.map(({ id, text, amount, currency, on }) => ({ id, text, amount, currency, on })),
  }
}
