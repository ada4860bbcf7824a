import type { z } from 'zod'
import type { Database } from '@/db/client'
import { listMachineNames } from '@/db/queries/machines'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { changeDoubt, sumChangeReach } from '@/lib/months/change-doubt'
import { REFERENCES } from '@/lib/months/references'
import { WASTE_KINDS, type WasteKind } from '@/lib/months/waste'
import { ApiProblem } from './api-problem'
import { oneOf } from './change-answer'
import { needMonth } from './month-answer'
import type { changeSumSchema } from './month-shapes'
import { monthBefore, yearBefore } from './views/month-names'
import { baselineSpans } from './views/month-reviews'
import { fleetMonths } from './views/packed-months'

export type ChangeSumAnswer = z.infer<typeof changeSumSchema>

function kindsOf(params: URLSearchParams): readonly WasteKind[] {
  const actual = params.get('kinds')
  if (actual === null) return WASTE_KINDS
  const asked = actual.split(',')
  const kinds = WASTE_KINDS.filter((kind) => asked.includes(kind))
  if (kinds.length === 0 || kinds.length < asked.length) {
    const expected = `some of ${WASTE_KINDS.join(', ')}, each once, with commas between`
    throw new ApiProblem('bad-query', { name: 'kinds', expected, actual })
  }
  return kinds
}

/**
 * The change of some kinds of waste between whole months over all machines that both know, with its interval, as today's
 * logs and settings make it; and of each machine its part, so that sums over fewer can be made.
 * @throws ApiProblem `bad-query`
 */
export async function changeSumAnswer(
  db: Database,
  month: string,
  params: URLSearchParams,
): Promise<ChangeSumAnswer> {
  needMonth(month)
  const against = oneOf(params, 'against', REFERENCES)
  const kinds = kindsOf(params)
  const [site, machines, spans] = await Promise.all([
    siteSettings(db),
    listMachineNames(db, DEFAULT_SITE_ID),
    against === 'baseline' ? baselineSpans(db) : null,
  ])
  const heldOf = (machineId: string): readonly string[] =>
    spans
      ? (spans.get(machineId)?.months ?? [])
      : [against === 'previous' ? monthBefore(month) : yearBefore(month)]
  const wanted = new Set(machines.flatMap(({ id }) => heldOf(id)))
  const months = await fleetMonths(db, DEFAULT_SITE_ID, [...new Set([month, ...wanted])])
  const at = (of: string, machineId: string) => {
    const found = months.get(of)?.narrowOf(machineId)
    return found ? [{ month: of, narrow: found }] : []
  }
  const parts = machines.flatMap(({ id, name }) => {
    const [own] = at(month, id)
    const held = heldOf(id).flatMap((one) => at(one, id))
    const change = own && held.length > 0 ? changeDoubt(own, held, kinds, { id, name }, site) : null
    return change ? [{ machineId: id, ...change }] : []
  })
  const known = parts.flatMap(({ doubt }) => doubt ?? [])
  return {
    month,
    against,
    kinds,
    machines: parts.length,
    unsure: parts.length - known.length,
    kWh: parts.reduce((sum, one) => sum + one.kWh, 0),
    cost: parts.reduce((sum, one) => sum + one.cost, 0),
    reach: known.length === parts.length && known.length > 0 ? sumChangeReach(known) : null,
    parts,
  }
}
