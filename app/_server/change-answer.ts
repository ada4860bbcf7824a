import type { z } from 'zod'
import type { Database } from '@/db/client'
import { listMachineMonths } from '@/db/queries/machine-months'
import { listBaselines } from '@/db/queries/month-baselines'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { changeInputs } from '@/lib/months/change-inputs'
import { FIGURES } from '@/lib/months/figures'
import { REFERENCES, type Reference } from '@/lib/months/references'
import { ApiProblem } from './api-problem'
import { needMachine } from './find-log'
import { needMonth } from './month-answer'
import type { changeAnswerSchema } from './month-shapes'
import { monthBefore, monthsBetween, yearBefore } from './views/month-names'

export type ChangeAnswer = z.infer<typeof changeAnswerSchema>

/** @throws ApiProblem `bad-query` where the parameter is none of the names */
export function oneOf<Name extends string>(
  params: URLSearchParams,
  name: string,
  names: readonly Name[],
): Name {
  const actual = params.get(name)
  const found = names.find((one) => one === actual)
  if (!found) throw new ApiProblem('bad-query', { name, expected: names.join(', '), actual })
  return found
}

async function monthsOf(db: Database, reference: Reference, month: string, machineId: string) {
  if (reference === 'previous') return [monthBefore(month)]
  if (reference === 'lastYear') return [yearBefore(month)]
  const mark = (await listBaselines(db, DEFAULT_SITE_ID)).find((one) => one.machineId === machineId)
  return mark ? monthsBetween(mark.fromMonth, mark.untilMonth) : []
}

/**
 * What the change of one figure of a machine's month was split from, as today's logs and settings make it; null
 * inputs where one side says nothing of it.
 * @throws ApiProblem `bad-query`, `unknown-machine`
 */
export async function changeAnswer(
  db: Database,
  month: string,
  params: URLSearchParams,
): Promise<ChangeAnswer> {
  needMonth(month)
  const figure = oneOf(params, 'figure', FIGURES)
  const against = oneOf(params, 'against', REFERENCES)
  const machine = await needMachine(db, params.get('machine') ?? '')
  const site = await siteSettings(db, machine.siteId)
  const wanted = await monthsOf(db, against, month, machine.id)
  const rows = await listMachineMonths(db, machine.siteId, [...new Set([month, ...wanted])])
  const own = rows.filter(({ machineId }) => machineId === machine.id)
  const summary = own.find((row) => row.month === month)?.summary
  const months = own.filter((row) => wanted.includes(row.month))
  return {
    month,
    machineId: machine.id,
    figure,
    against,
    months: months.map((row) => row.month),
    inputs:
      summary && months.length > 0 ? changeInputs(month, machine, summary, { months }, figure, site) : null,
  }
}
