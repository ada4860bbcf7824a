import { plannedVisits, trialS, VENTED } from '@/app/_plant/plant'
import { decideMeasure, stepMeasure } from '@/app/_server/decide-measure'
import { needMeasure } from '@/app/_server/measure-answer'
import { newId } from '@/app/_server/new-id'
import type { Database } from '@/db/client'
import { listDoneLogs } from '@/db/queries/logs'
import { insertMeasureQuote, listMeasures, updateMeasure } from '@/db/queries/measures'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { insertTrial } from '@/db/queries/trials'
import { type MeasureState, newMeasureSchema } from '@/lib/contract/measure'
import { proofSetupSchema } from '@/lib/contract/proof'

const { machineId, change, installedOn, trialWeek } = VENTED
const PLANNER = 'E. Brandt (invented)'
const STEPS: readonly (readonly [MeasureState, string, string | null])[] = [
  ['approved', '2026-09-21', 'pays back within the year'],
  ['ordered', '2026-09-22', null],
  ['installed', installedOn, 'solenoid vent on the relief, low-vent spring'],
]

/** The visit in which it was tried by hand, and the one before: its log makes the promise. */
function visitsOfPress() {
  const visits = plannedVisits().filter(({ machine }) => machine.id === machineId)
  const fileName = (week: number) => `${machineId}-${visits[week].startedAt.slice(0, 10)}.csv`
  return {
    promising: fileName(trialWeek - 2),
    trial: fileName(trialWeek),
    atS: trialS(visits[trialWeek].visit.durationS),
  }
}

/**
 * Decides to vent the press's relief, as a person would: from the option of a log, with a trial, steps and a proof frozen
 * at the end. Nothing is done where a measure of that machine is there already, or a log is missing.
 */
export async function seedMeasure(db: Database): Promise<void> {
  if ((await listMeasures(db, { machineId })).length > 0) return
  const { promising, trial, atS } = visitsOfPress()
  const logs = await listDoneLogs(db, machineId)
  const idOf = (fileName: string) => logs.find((log) => log.fileName === fileName)?.id
  const [promise, tried] = [idOf(promising), idOf(trial)]
  if (!promise || !tried) return
  const wanted = {
    machineId,
    optionId: change.id,
    logId: promise,
    owner: PLANNER,
    author: PLANNER,
    on: '2026-09-18',
  }
  const measureId = await decideMeasure(db, newMeasureSchema.parse(wanted))
  const key = { machineId, measureId, siteId: DEFAULT_SITE_ID }
  const quote = { text: 'vent valve, pilot line, half a day of work', amount: 940, currency: 'EUR' }
  await insertMeasureQuote(db, { ...key, id: newId(), ...quote, on: '2026-09-19' })
  // The log with the trial holds both states: it belongs to neither side.
  await updateMeasure(db, key, { setup: proofSetupSchema.parse({ leftOut: [tried] }) })
  const said = { note: 'vent opened by hand while idle', author: PLANNER, measureId }
  await insertTrial(db, {
    machineId,
    siteId: DEFAULT_SITE_ID,
    logId: tried,
    id: newId(),
    atS,
    cycles: 10,
    ...said,
  })
  for (const [state, on, reason] of STEPS)
    await stepMeasure(db, await needMeasure(db, measureId), { state, on, reason, author: PLANNER })
  await stepMeasure(db, await needMeasure(db, measureId), {
    state: 'verified',
    on: '2026-10-30',
    reason: null,
    author: PLANNER,
  })
}
