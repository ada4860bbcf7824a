import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { eq, inArray } from 'drizzle-orm'
import { ValueType, Workbook } from 'exceljs'
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { chromiumPath } from '@/app/_jobs/report-pdf'
import { queueDueReports } from '@/app/_jobs/report-run'
import type { Report } from '@/app/_server/reports/report'
import { tablesOf } from '@/app/_server/reports/report'
import { reportOf } from '@/app/_server/reports/report-of'
import { overlayView } from '@/app/_server/views/overlay-view'
import { reportAnswerSchema } from '@/app/_server/views/reports-view'
import { dateTime } from '@/app/_ui/format'
import { POST as POST_EVIDENCE } from '@/app/api/logs/[id]/evidence/route'
import { POST as POST_LOG } from '@/app/api/logs/route'
import { POST as POST_MACHINE } from '@/app/api/machines/route'
import { GET as GET_FILE } from '@/app/api/reports/[run]/file/route'
import { DELETE as DELETE_RUN, GET as GET_RUN } from '@/app/api/reports/[run]/route'
import { GET as GET_RUNS, POST as POST_RUN } from '@/app/api/reports/route'
import { GET as GET_TABLES } from '@/app/api/reports/tables/route'
import { failDeadReports, insertReportRun } from '@/db/queries/report-runs'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { logs } from '@/db/schema/logs'
import { reportRuns } from '@/db/schema/report-runs'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

const SAMPLE = 'baler-line-flow'
const MONTH = '2026-09'
const NOW = new Date('2026-10-05T08:00:00Z')
const EVIL = '=HYPERLINK("http://a.test")'
const db = apiDatabase()
let machines: string[] = []

async function machineWithLog(name: string): Promise<string> {
  const body = { ...sampleMachine(SAMPLE), name }
  const { id } = await (await POST_MACHINE(jsonRequest('/api/machines', 'POST', body), noParams)).json()
  const log = new Uint8Array(sampleBytes(`${SAMPLE}.csv`))
  await POST_LOG(request(`/api/logs?machine=${id}`, { method: 'POST', body: log }), noParams)
  return id
}

beforeAll(async () => {
  machines = [await machineWithLog('Baler'), await machineWithLog(EVIL)]
  await queueIdle()
})
afterEach(() => {
  vi.unstubAllEnvs()
})

const report = async (kind: 'month' | 'machine', subject: string): Promise<Report> =>
  (await reportOf(db(), kind, subject, NOW)) ?? expect.fail('no report')
const tableOf = (of: Report, id: string) =>
  tablesOf(of).find((table) => table.id === id) ?? expect.fail(`no table ${id}`)
const number = (cell: unknown) =>
  typeof cell === 'object' && cell && 'value' in cell ? Number(cell.value) : Number(cell)
const textOf = (of: Report) => JSON.stringify(of)

const post = (body: unknown) => POST_RUN(jsonRequest('/api/reports', 'POST', body), noParams)
const runs = async () =>
  reportAnswerSchema.array().parse((await (await GET_RUNS(request('/api/reports'), noParams)).json()).reports)
const run = async (id: string) =>
  reportAnswerSchema.parse(await (await GET_RUN(request(`/api/reports/${id}`), params({ run: id }))).json())
const file = (id: string, format: string) =>
  GET_FILE(request(`/api/reports/${id}/file?format=${format}`), params({ run: id }))
const tables = (query: string) => GET_TABLES(request(`/api/reports/tables?${query}`), noParams)
const made = async (body: unknown) => {
  const answer = await post(body)
  expect(answer.status).toBe(202)
  const { id } = reportAnswerSchema.parse(await answer.json())
  expect(answer.headers.get('location')).toBe(`/api/reports/${id}`)
  await queueIdle()
  return run(id)
}

describe('the report of a month', () => {
  it('has totals that are the sums of its rows', async () => {
    const { rows, columns } = tableOf(await report('month', MONTH), 'machines')
    expect(rows).toHaveLength(3)
    const sums = ['Logged', 'Input, measured', 'Waste, measured', 'It cost', 'CO₂', 'Waste, whole month']
    for (const header of sums) {
      const k = columns.findIndex((column) => column.header === header)
      const [first, second, total] = rows.map((row) => number(row[k]))
      expect(first, header).toBeGreaterThan(0)
      expect(total, header).toBeCloseTo(first + second, 9)
    }
  })

  it('has kinds of waste that add up to each machine’s waste', async () => {
    const month = await report('month', MONTH)
    for (const [name, , , , , waste] of tableOf(month, 'machines').rows.slice(0, 2)) {
      const kinds = tableOf(month, 'waste').rows.filter(
        ([machine, , own]) => machine === name && typeof own !== 'string',
      )
      expect(kinds.length).toBeGreaterThan(1)
      expect(kinds.reduce((sum, [, , own]) => sum + number(own), 0)).toBeCloseTo(number(waste), 9)
    }
  })

  it('is nothing where nothing was logged, or where there is no such month', async () => {
    expect(await reportOf(db(), 'month', '2019-01', NOW)).toBeNull()
    expect(await reportOf(db(), 'month', '2026-13', NOW)).toBeNull()
  })
})

describe('the report of a machine', () => {
  it('has sensors with their accuracy, method, cautions, file and versions', async () => {
    const machine = await report('machine', machines[0])
    expect(tableOf(machine, 'sensors').rows.length).toBeGreaterThanOrEqual(3)
    for (const row of tableOf(machine, 'sensors').rows) expect(row.at(-2)).toMatch(/% of/)
    const [[, fileName, , , rowsUsed, , engine]] = tableOf(machine, 'logs').rows
    const [[file, sha]] = tableOf(machine, 'checksums').rows
    expect(file).toBe(fileName)
    expect(rowsUsed).toBeGreaterThan(0)
    expect(engine).toBeGreaterThan(0)
    expect(sha).toMatch(/^[0-9a-f]{64}$/)
    expect(machine.sections.map(({ id }) => id)).toEqual(expect.arrayContaining(['method', 'cautions']))
    expect(textOf(machine)).toMatch(/Lock out/)
    expect(textOf(machine)).toMatch(/JCGM 100/)
    expect(textOf(machine)).toMatch(new RegExp(`version ${engine}`))
  })

  it('has an account that adds up to its input', async () => {
    const { rows } = tableOf(await report('machine', machines[0]), 'account')
    const streams = rows.slice(0, -1).filter(([, energy]) => typeof energy === 'object')
    const sum = streams.reduce((so, [, energy]) => so + number(energy), 0)
    expect(sum).toBeCloseTo(number(rows[rows.length - 1][1]), 6)
  })

  it('calls no work what holds metering, and says in words which sensor would tell', async () => {
    const machine = await report('machine', machines[0])
    const parts = machine.sections.flatMap(({ bars }) => bars ?? []).flatMap((bar) => bar.parts)
    expect(parts.map(({ key }) => key)).toEqual(['idle', 'overRelief', 'intoSystem', 'unaccounted'])
    expect(parts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
    expect(machine.sections.find(({ id }) => id === 'evidence')?.list).toContain(
      'These sensors cannot separate: Metering; it would take a pressure sensor: loaded actuator.',
    )
  })
})

describe('evidence of sensors that was handed in after the import', () => {
  it('stands in the reports of its month and machine with who and when, and the import’s own stays beside it', async () => {
    const before = tableOf(await report('month', MONTH), 'sensors')
    expect(tableOf(await report('month', MONTH), 'handed-in').rows).toEqual([])
    const [machineId, other] = machines
    const logOf = async (id: string) => {
      const [{ id: logId, report: own }] = await db().select().from(logs).where(eq(logs.machineId, id))
      const channel = own?.channels[0] ?? expect.fail('the log has no column')
      return { logId, column: channel.column, unit: channel.unit }
    }
    const hand = async (id: string, author: string, evidence: object) => {
      const { logId, column } = await logOf(id)
      const body = { column, author, evidence }
      const made = await POST_EVIDENCE(
        jsonRequest(`/api/logs/${logId}/evidence`, 'POST', body),
        params({ id: logId }),
      )
      expect(made.status).toBe(201)
      return (await made.json()).createdAt as string
    }
    await hand(machineId, 'A. Fitter', { serialNumber: 'PT-4711', zeroReading: 0.4 })
    const at = await hand(machineId, 'B. Auditor', {
      certificateNumber: 'K-12',
      certificateDate: '2026-01-15',
    })
    await hand(other, 'A. Fitter', { serialNumber: 'PT-4712' })

    const month = await report('month', MONTH)
    const { rows } = tableOf(month, 'handed-in')
    expect(rows).toHaveLength(3)
    const { column, unit } = await logOf(machineId)
    expect(rows[0]).toEqual([
      'Baler',
      expect.any(String),
      column,
      `serial number PT-4711, shows 0.4 ${unit} at rest`,
      expect.any(String),
      'A. Fitter',
    ])
    expect(rows[1].slice(3)).toEqual([
      'certificate K-12, certified on 2026-01-15',
      dateTime(at, 'UTC'),
      'B. Auditor',
    ])
    expect(tableOf(await report('machine', machineId), 'handed-in').rows).toEqual(rows.slice(0, 2))
    expect(tableOf(month, 'sensors').rows).toEqual(before.rows)
  })
})

describe('tables of a report', () => {
  it('come as CSV without a formula, though a machine is named like one', async () => {
    const answer = await tables(`kind=month&subject=${MONTH}&table=machines`)
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8')
    expect(answer.headers.get('content-disposition')).toBe(
      `attachment; filename="tankward-month-${MONTH}-machines.csv"`,
    )
    const text = Buffer.from(await answer.arrayBuffer()).toString('utf8')
    expect(text.startsWith('\uFEFFMachine,')).toBe(true)
    expect(text).toContain(`\r\n"'=HYPERLINK(""http://a.test"")",`)
    expect(text).not.toMatch(/(^|\r\n|,)"?=/)
  })

  it('come as a spreadsheet without a formula', async () => {
    const book = new Workbook()
    await book.xlsx.load(await (await tables(`kind=month&subject=${MONTH}&format=xlsx`)).arrayBuffer())
    let numbers = 0
    for (const sheet of book.worksheets)
      sheet.eachRow((row) =>
        row.eachCell(({ type }) => {
          expect(type).not.toBe(ValueType.Formula)
          if (type === ValueType.Number) numbers++
        }),
      )
    expect(numbers).toBeGreaterThan(20)
  })

  it('say what was expected where the question is wrong', async () => {
    await problemOf(await tables(`kind=year&subject=2026`), 400, 'bad-query')
    await problemOf(await tables(`kind=month&subject=${MONTH}&format=doc`), 400, 'bad-query')
    const { detail } = await problemOf(await tables(`kind=month&subject=${MONTH}&table=x`), 400, 'bad-query')
    expect(detail).toContain('machines, waste')
    await problemOf(await tables('kind=month&subject=2019-01&table=machines'), 404, 'nothing-to-report')
    await problemOf(await tables('kind=machine&subject=nobody&table=account'), 404, 'nothing-to-report')
  })
})

describe('reports that are made and kept', () => {
  it('have a spreadsheet and no PDF where there is no browser, and say so', async () => {
    vi.stubEnv('CHROMIUM_PATH', '/nowhere/chromium')
    const done = await made({ kind: 'month', subject: MONTH })
    expect(done).toMatchObject({
      kind: 'month',
      subject: MONTH,
      isScheduled: false,
      state: 'done',
      pdf: null,
    })
    expect(done.failure).toMatch(/no browser/)
    expect(done.xlsx).toBe(`/api/reports/${done.id}/file?format=xlsx`)
    const book = new Workbook()
    await book.xlsx.load(await (await file(done.id, 'xlsx')).arrayBuffer())
    expect(book.worksheets[0].name).toBe('About')
    await problemOf(await file(done.id, 'pdf'), 404, 'unknown-report')
    await problemOf(await file(done.id, 'doc'), 400, 'bad-query')
    expect((await runs()).map(({ id }) => id)).toContain(done.id)
  })

  it.skipIf(!chromiumPath())(
    'have a PDF, and where its page fails the reason instead',
    { timeout: 120_000 },
    async () => {
      let status = 503
      const pages = createServer((_, answer) =>
        answer.writeHead(status, { 'Content-Type': 'text/html' }).end('<p>page'),
      )
      await new Promise<void>((resolve) => pages.listen(0, '127.0.0.1', () => resolve()))
      vi.stubEnv('PORT', String((pages.address() as AddressInfo).port))
      try {
        const failed = await made({ kind: 'machine', subject: machines[0] })
        expect(failed).toMatchObject({ state: 'done', pdf: null, xlsx: expect.any(String) })
        expect(failed.failure).toMatch(/status 503/)
        status = 200
        const done = await made({ kind: 'machine', subject: machines[0] })
        expect(done).toMatchObject({ state: 'done', failure: null })
        const pdf = Buffer.from(await (await file(done.id, 'pdf')).arrayBuffer())
        expect(pdf.subarray(0, 5).toString('latin1')).toBe('%PDF-')
      } finally {
        pages.closeAllConnections()
        pages.close()
      }
    },
  )

  it('are refused where there is nothing to report of, or no such kind', async () => {
    await problemOf(await post({ kind: 'month', subject: '2019-01' }), 404, 'nothing-to-report')
    await problemOf(await post({ kind: 'machine', subject: 'nobody' }), 404, 'nothing-to-report')
    await problemOf(await post({ kind: 'year', subject: '2026' }), 422, 'invalid-shape')
    const unknown = GET_RUN(request('/api/reports/none'), params({ run: 'none' }))
    await problemOf(await unknown, 404, 'unknown-report')
  })

  it('come due once when a month is over, however often it is looked', async () => {
    vi.stubEnv('CHROMIUM_PATH', '/nowhere/chromium')
    // The month is not over at the site, and no log lies in the one before.
    expect(await queueDueReports(db(), new Date('2026-09-20T00:00:00Z'))).toBe(false)
    expect(await queueDueReports(db(), NOW)).toBe(true)
    expect(await queueDueReports(db(), NOW)).toBe(false)
    await queueIdle()
    expect(await queueDueReports(db(), NOW)).toBe(false)
    const scheduled = (await runs()).filter(({ isScheduled }) => isScheduled)
    expect(scheduled).toMatchObject([{ id: `month-${MONTH}`, subject: MONTH, state: 'done' }])
  })

  it('do not come due again once somebody deleted them, and can still be asked for', async () => {
    vi.stubEnv('CHROMIUM_PATH', '/nowhere/chromium')
    const id = `month-${MONTH}`
    const gone = () => DELETE_RUN(request(`/api/reports/${id}`, { method: 'DELETE' }), params({ run: id }))
    expect((await gone()).status).toBe(204)
    await problemOf(await gone(), 404, 'unknown-report')
    await problemOf(await file(id, 'xlsx'), 404, 'unknown-report')
    expect((await runs()).map((one) => one.id)).not.toContain(id)
    expect(await queueDueReports(db(), NOW)).toBe(false)
    expect((await made({ kind: 'month', subject: MONTH })).state).toBe('done')
  })

  it('are interrupted an hour after they began, not after they were asked for', async () => {
    const begin = new Date('2026-10-05T10:00:00Z')
    const hours = (count: number) => new Date(begin.getTime() + count * 3_600_000)
    const run = { siteId: DEFAULT_SITE_ID, kind: 'month', subject: MONTH, isScheduled: false } as const
    for (const id of ['waits', 'runs']) await insertReportRun(db(), { ...run, id })
    await db()
      .update(reportRuns)
      .set({ createdAt: hours(-5) })
      .where(inArray(reportRuns.id, ['waits', 'runs']))
    await db().update(reportRuns).set({ state: 'running', startedAt: begin }).where(eq(reportRuns.id, 'runs'))
    const states = async () => {
      const all = await runs()
      return ['waits', 'runs'].map((id) => all.find((one) => one.id === id)?.state)
    }
    await failDeadReports(db(), { begunBefore: hours(-1), waitingSince: hours(-24) })
    expect(await states()).toEqual(['waiting', 'running'])
    await failDeadReports(db(), { begunBefore: hours(1), waitingSince: hours(-24) })
    expect(await states()).toEqual(['waiting', 'failed'])
    await failDeadReports(db(), { begunBefore: hours(1), waitingSince: hours(-4) })
    expect(await states()).toEqual(['failed', 'failed'])
  })

  it('are deleted when asked', async () => {
    vi.stubEnv('CHROMIUM_PATH', '/nowhere/chromium')
    const { id } = await made({ kind: 'month', subject: MONTH })
    const gone = () => DELETE_RUN(request(`/api/reports/${id}`, { method: 'DELETE' }), params({ run: id }))
    expect((await gone()).status).toBe(204)
    await problemOf(await gone(), 404, 'unknown-report')
  })
})

describe('machines laid over one another', () => {
  it('stand side by side with what their latest logs say, and who is missing is named', async () => {
    const view = await overlayView(db(), [...machines, 'nobody'])
    expect(view.machines.map(({ id, name }) => [id, name])).toEqual([
      [machines[0], 'Baler'],
      [machines[1], EVIL],
    ])
    expect(view.missing).toEqual(['nobody'])
    const [first, second] = view.machines
    expect(first.phases.length).toBeGreaterThan(10)
    expect(first.pressure).not.toBeNull()
    expect(second.result.ledgerKWh.electricIn).toEqual(first.result.ledgerKWh.electricIn)
  })
})
