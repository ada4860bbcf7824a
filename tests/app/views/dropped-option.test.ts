import { sql } from 'drizzle-orm'
import type { ReactElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { beforeAll, expect, it, vi } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { POST as POST_LOG } from '@/app/api/logs/route'
import { POST as POST_MACHINE } from '@/app/api/machines/route'
import { POST as POST_EVENT } from '@/app/api/measures/[id]/events/route'
import { GET as GET_MEASURE } from '@/app/api/measures/[id]/route'
import { POST as POST_MEASURE } from '@/app/api/measures/route'
import { PUT as PUT_SITE } from '@/app/api/site/route'
import FundingPage from '@/app/funding/page'
import TrialsPage from '@/app/machines/[id]/logs/[log]/trials/page'
import MachinePage from '@/app/machines/[id]/page'
import ComparePage from '@/app/machines/compare/page'
import MachinesPage from '@/app/machines/page'
import MeasurePage from '@/app/measures/[id]/page'
import MeasuresPage from '@/app/measures/page'
import MonthPage from '@/app/months/[month]/page'
import ReportPage from '@/app/reports/machine/[id]/page'
import SitePage from '@/app/site/page'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { apiDatabase, jsonRequest, noParams, params, request } from '../api/harness'
import { sampleBytes, sampleMachine } from '../sample-files'

// An option that the catalogue no longer has stands in what was stored before: analyses, their digests, measures, months
// and costs. Every page that names options must still be made of it.

vi.mock('next/navigation', () => ({
  useRouter: () => ({ push: () => {}, replace: () => {}, refresh: () => {} }),
  usePathname: () => '/',
  useSearchParams: () => new URLSearchParams(),
  notFound: () => {
    throw new Error('not found')
  },
  redirect: (to: string) => {
    throw new Error(`sent to ${to}`)
  },
}))

const OFFERED = 'vent-relief-at-idle'
const GONE = 'steam-accumulator'
const NAMED = '“steam-accumulator”, no longer offered'
const db = apiDatabase()
let [machineId, logId, measureId] = ['', '', '']

beforeAll(async () => {
  const made = await POST_MACHINE(
    jsonRequest('/api/machines', 'POST', sampleMachine('press-all-sensors')),
    noParams,
  )
  machineId = (await made.json()).id
  await PUT_SITE(jsonRequest('/api/site', 'PUT', { optionCosts: { [OFFERED]: [1, 2, 3] } }), noParams)
  const body = new Uint8Array(sampleBytes('press-all-sensors.csv'))
  const log = await POST_LOG(request(`/api/logs?machine=${machineId}`, { method: 'POST', body }), noParams)
  logId = (await log.json()).id
  await queueIdle()
  const wanted = { machineId, optionId: OFFERED, logId }
  const measure = await POST_MEASURE(jsonRequest('/api/measures', 'POST', wanted), noParams)
  measureId = (await measure.json()).id
  const step = jsonRequest(`/api/measures/${measureId}/events`, 'POST', { state: 'approved' })
  await POST_EVENT(step, params({ id: measureId }))
  const tables = await db().execute(
    sql`select table_name, column_name, data_type from information_schema.columns where table_schema = 'public' and (data_type = 'jsonb' or column_name = 'option_id')`,
  )
  for (const { table_name, column_name, data_type } of rowsOf(tables))
    await db().execute(
      sql`update ${sql.identifier(table_name)} set ${sql.identifier(column_name)} = replace(${sql.identifier(column_name)}::text, ${OFFERED}, ${GONE})::${sql.raw(data_type)} where ${sql.identifier(column_name)}::text like ${`%${OFFERED}%`}`,
    )
})

const rowsOf = (answer: unknown) => (answer as { rows: Record<string, string>[] }).rows
const html = async (page: Promise<ReactElement>) => renderToStaticMarkup(await page)
const asked = (values: Record<string, string> = {}) => Promise.resolve(values)

it('has taken the option out of all that is stored', async () => {
  const dump = async (table: string) =>
    JSON.stringify(rowsOf(await db().execute(sql`select * from ${sql.identifier(table)}`)))
  for (const table of ['analyses', 'log_digests', 'measures', 'sites']) {
    expect(await dump(table), table).toContain(GONE)
    expect(await dump(table), table).not.toContain(OFFERED)
  }
})

it('makes every page that names options, with the option’s id in place of its title', async () => {
  const measure = { params: params({ id: measureId }).params }
  expect(await html(MeasurePage(measure))).toContain(NAMED)
  expect(await html(MeasuresPage())).toContain(NAMED)
  expect(await html(FundingPage({ searchParams: asked() }))).toContain(NAMED)
  const months = await listMonths(db(), DEFAULT_SITE_ID)
  expect(months).toHaveLength(1)
  expect(await html(MonthPage({ params: Promise.resolve({ month: months[0] }) }))).toContain(NAMED)
  const trials = await html(TrialsPage({ params: Promise.resolve({ id: machineId, log: logId }) }))
  expect(trials).toContain(NAMED)
  expect(await html(MachinesPage())).toContain('Deep-drawing press')
  expect(await html(SitePage())).toContain('What the options cost')
})

it('says that a log whose analysis names it is to be analysed again', async () => {
  const machine = { params: params({ id: machineId }).params, searchParams: asked() }
  expect(await html(MachinePage(machine))).toContain('is being analysed again')
  const over = ComparePage({ searchParams: asked({ ids: `${machineId},other` }) })
  expect(await html(over)).toContain('Not there, or without a log that was analysed')
  await expect(html(ReportPage({ params: params({ id: machineId }).params }))).rejects.toThrow('not found')
})

it('answers the measure to scripts', async () => {
  const answer = await GET_MEASURE(request(`/api/measures/${measureId}`), params({ id: measureId }))
  expect(await answer.json()).toMatchObject({ optionId: GONE, title: NAMED, state: 'approved' })
})
