import type { z } from 'zod'
import { storableText } from '@/app/_jobs/storable'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { addMeasureEvent, insertMeasure, listMeasureEvents } from '@/db/queries/measures'
import { siteSettings } from '@/db/queries/sites'
import type { MachineRow } from '@/db/schema/machines'
import type { MeasureRow } from '@/db/schema/measures'
import { type Expected, NEXT_STATES, type NewMeasure, type newEventSchema } from '@/lib/contract/measure'
import { proofSetupSchema } from '@/lib/contract/proof'
import { ApiProblem } from './api-problem'
import { needLog, needMachine } from './find-log'
import { localDay } from './local-day'
import { newId } from './new-id'
import { proveMeasure } from './prove-measure'

/** Text as it can be stored, null where nothing is said. */
export const said = (text: string | null | undefined) => storableText(text ?? '').trim() || null

/** What the option's row in the log's result promises, as it is now. */
async function promised(
  db: Database,
  machine: MachineRow,
  { optionId, logId }: NewMeasure,
): Promise<Expected> {
  const log = await needLog(db, logId ?? '')
  if (log.machineId !== machine.id) throw new ApiProblem('unknown-log', { id: log.id })
  const found = await findAnalysis(db, { machineId: machine.id, logId: log.id })
  if (!found) throw new ApiProblem('not-ready', { id: log.id, state: log.state })
  const option = found.analysis.options.find(({ id }) => id === optionId)
  if (!option?.savedKWhPerYear) throw new ApiProblem('nothing-promised', { option: optionId, id: log.id })
  return {
    savedShare: option.savedShare,
    savedKWhPerYear: option.savedKWhPerYear,
    plannedHours: (await siteSettings(db, machine.siteId)).plannedHoursPerYear,
    settings: { ...option.settings },
    engineVersion: found.engineVersion,
    logId: log.id,
    fileName: log.fileName,
    logStartedAt: log.startedAt?.toISOString() ?? null,
    frozenAt: new Date().toISOString(),
  }
}

/** What a person expects, where no option was replayed. */
function typed({ expectedKWhPerYear: saving }: NewMeasure): Expected | null {
  if (!saving) return null
  return {
    savedShare: null,
    savedKWhPerYear: { value: saving.likely, low: saving.low, high: saving.high, basis: 'default' },
    settings: {},
    engineVersion: null,
    logId: null,
    fileName: null,
    logStartedAt: null,
    frozenAt: new Date().toISOString(),
  }
}

/**
 * Turns an option, or a person's own idea, into a measure: proposed, with its promise and the machine's set-up frozen.
 * @throws ApiProblem `unknown-machine`, `unknown-log`, `not-ready`, `nothing-promised`
 */
export async function decideMeasure(db: Database, wanted: NewMeasure): Promise<string> {
  const machine = await needMachine(db, wanted.machineId)
  const site = await siteSettings(db, machine.siteId)
  const expected = wanted.optionId ? await promised(db, machine, wanted) : typed(wanted)
  const id = newId()
  await insertMeasure(
    db,
    {
      machineId: machine.id,
      id,
      siteId: machine.siteId,
      optionId: wanted.optionId,
      title: said(wanted.title),
      state: 'proposed',
      owner: said(wanted.owner),
      notes: said(wanted.notes),
      expected,
      machineThen: machine.config,
      setup: proofSetupSchema.parse({}),
    },
    { on: wanted.on ?? localDay(new Date(), site.timeZone), reason: null, author: said(wanted.author) },
  )
  return id
}

/**
 * Takes a measure a step on, or back. Verifying freezes the proof as it stands.
 * @throws ApiProblem `state-not-next`, `reason-missing`, `nothing-proven`, `step-meanwhile`
 */
export async function stepMeasure(
  db: Database,
  measure: MeasureRow,
  { state, on, reason, author }: z.infer<typeof newEventSchema>,
): Promise<void> {
  const next = NEXT_STATES[measure.state]
  if (!next.includes(state))
    throw new ApiProblem('state-not-next', { from: measure.state, to: state, next: next.join(', ') })
  if (state === 'rejected' && !said(reason)) throw new ApiProblem('reason-missing')
  const proof = state === 'verified' ? (await proveMeasure(db, measure)).proof : null
  if (proof?.verdict === 'not-enough-data') throw new ApiProblem('nothing-proven', { id: measure.id })
  const key = { machineId: measure.machineId, measureId: measure.id, siteId: measure.siteId }
  const site = await siteSettings(db, measure.siteId)
  const events = await listMeasureEvents(db, key)
  const last = events[events.length - 1]
  if (last.state !== measure.state) throw new ApiProblem('step-meanwhile', { id: measure.id })
  const event = {
    state,
    on: on ?? localDay(new Date(), site.timeZone),
    reason: said(reason),
    author: said(author),
    proof,
  }
  if (!(await addMeasureEvent(db, key, last.seq, event)))
    throw new ApiProblem('step-meanwhile', { id: measure.id })
}
