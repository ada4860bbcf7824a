import { describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { inspectionSchema, layoutAnswerSchema, surveyAnswerSchema } from '@/app/_server/inspection-shapes'
import { POST as INSPECT } from '@/app/api/inspections/route'
import { PUT as SAY } from '@/app/api/logs/[id]/reading/route'
import { GET } from '@/app/api/logs/[id]/route'
import { POST } from '@/app/api/logs/route'
import { DELETE as FORGET } from '@/app/api/machines/[id]/layouts/[layout]/route'
import { GET as LIST, POST as REMEMBER } from '@/app/api/machines/[id]/layouts/route'
import { listLogs } from '@/db/queries/logs'
import type { Reading } from '@/lib/contract/reading'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

const NAME = 'broach-early-relief'
/** The sample's first 400 rows with dates that have the day or the month first. */
const LINES = sampleBytes(`${NAME}.csv`).toString('utf8').split('\n').slice(0, 401)
const OPEN = LINES.map((line) => line.replace(/^2026-09-18T/, '03/04/2026 ')).join('\n')
/** The same columns under names that say nothing. */
const STRANGE = [LINES[0].replace(/^.*$/, 'Time,A,B,C,D,E'), ...LINES.slice(1)].join('\n')
const CHANNELS: Reading['channels'] = [
  { column: 'A', quantity: 'pressure', location: 'pump-outlet', unit: 'bar' },
  { column: 'C', quantity: 'flow', location: 'pump-outlet', unit: 'L/min' },
  { column: 'E', quantity: 'power', location: 'motor-supply', unit: 'kW' },
]

const db = apiDatabase()
const fresh = async () => {
  const { channels: _, ...machine } = sampleMachine(NAME)
  return newMachine(db(), machine)
}

const queryOf = (machine: string, more: Record<string, string>) =>
  new URLSearchParams({ machine, name: 'shift.csv', ...more })
const inspect = (machine: string, text: string, more: Record<string, string> = {}) =>
  INSPECT(request(`/api/inspections?${queryOf(machine, more)}`, { method: 'POST', body: text }), noParams)
const post = (machine: string, text: string, more: Record<string, string> = {}) =>
  POST(request(`/api/logs?${queryOf(machine, more)}`, { method: 'POST', body: text }), noParams)
const say = (reading: Reading) => ({ reading: JSON.stringify(reading) })
const state = async (id: string) => (await GET(request(`/api/logs/${id}`), params({ id }))).json()
const remember = (machine: string, body: unknown) =>
  REMEMBER(jsonRequest(`/api/machines/${machine}/layouts`, 'POST', body), params({ id: machine }))
const remembered = async (machine: string) =>
  (await (await LIST(request(`/api/machines/${machine}/layouts`), params({ id: machine }))).json()).layouts

async function imported(machine: string, text: string, more: Record<string, string> = {}) {
  const { id } = await (await post(machine, text, more)).json()
  await queueIdle()
  return state(id)
}

describe('POST /api/inspections', () => {
  it('asks what the file leaves open, with both readings', async () => {
    const answer = inspectionSchema.parse(await (await inspect(await fresh(), OPEN)).json())
    expect(answer.questions).toEqual([
      {
        id: 'dayOrder',
        example: expect.stringMatching(/^03\/04\/2026 /),
        column: null,
        line: 2,
        choices: [
          { value: 'day-first', reading: '2026-04-03', likelier: true },
          { value: 'month-first', reading: '2026-03-04', likelier: false },
        ],
      },
    ])
  })

  it('asks nothing that was answered, and nothing where the file is clear', async () => {
    const machine = await fresh()
    const answered = await (await inspect(machine, OPEN, say({ dayOrder: 'month-first' }))).json()
    expect(answered.questions).toEqual([])
    expect(answered.startedAt).toMatch(/^2026-03-04T/)
    expect(answered.reading).toEqual({ reading: { dayOrder: 'month-first' }, remembered: null })
    const clear = await (await inspect(machine, LINES.join('\n'))).json()
    expect(clear).toMatchObject({ questions: [], reading: null, overlaps: [] })
  })

  it('shows the columns of a file in which none could be understood, and takes what a person says of them', async () => {
    const machine = await fresh()
    const refused = await inspect(machine, STRANGE)
    const problem = await problemOf(refused, 422, 'no-usable-channel')
    const { columns } = surveyAnswerSchema.parse(problem)
    expect(columns.map(({ column, unused }) => [column, unused])).toEqual([
      ['Time', 'time'],
      ...['A', 'B', 'C', 'D', 'E'].map((column) => [column, 'not-recognised']),
    ])
    const mapped = await (await inspect(machine, STRANGE, say({ channels: CHANNELS }))).json()
    expect(mapped.questions).toEqual([])
    expect(mapped.columns[1]).toMatchObject({
      channel: { quantity: 'pressure', location: 'pump-outlet', unit: 'bar' },
      evidence: { confidence: 'declared' },
    })
    expect(mapped.columns[2]).toMatchObject({ channel: null, unused: 'not-recognised' })
  })

  it('asks for the columns where no column is the pump’s pressure, and for the start where there is none', async () => {
    const elapsed = LINES.map((line, i) =>
      i === 0 ? 'Elapsed [s],Line flow [L/min],Motor power [kW]' : `${i / 4},${line.split(',')[3]},5`,
    ).join('\n')
    const { questions } = await (await inspect(await fresh(), elapsed)).json()
    expect(questions.map(({ id, example }: { id: string; example: string }) => [id, example])).toEqual([
      ['startedAt', null],
      ['columns', 'no-pump-pressure'],
    ])
  })

  it('names stored logs that share time with the file', async () => {
    const machine = await fresh()
    const log = await imported(machine, LINES.join('\n'))
    const later = [LINES[0], ...LINES.slice(200)].join('\n')
    const { overlaps } = await (await inspect(machine, later)).json()
    expect(overlaps).toEqual([
      {
        id: log.id,
        fileName: 'shift.csv',
        startedAt: log.startedAt ?? log.log.startedAt,
        endedAt: log.log.endedAt,
      },
    ])
  })

  it.each([
    ['bad-query', 400, 'not json'],
    ['invalid-shape', 422, '{"dayOrder":"year-first"}'],
    ['invalid-shape', 422, '{"timeZone":"Nowhere/Land"}'],
  ])('answers %s to a reading that is none', async (code, status, reading) => {
    await problemOf(await inspect(await fresh(), OPEN, { reading }), status, code)
  })
})

describe('POST /api/logs with a reading', () => {
  it('imports the file as it was said, and keeps that with the log', async () => {
    const machine = await fresh()
    const asSaid = await imported(machine, OPEN, say({ dayOrder: 'month-first' }))
    expect(asSaid.log.startedAt).toMatch(/^2026-03-04T/)
    expect(asSaid.reading).toEqual({ reading: { dayOrder: 'month-first' }, remembered: null })
    expect(asSaid.log.problems.map(({ code }: { code: string }) => code)).not.toContain('assumed-day-order')
    const asFound = await imported(await fresh(), OPEN)
    expect(asFound.reading).toBeNull()
    expect(asFound.log.startedAt).toMatch(/^2026-04-03T/)
  })

  it('says anew how a stored file is to be read, and takes it back', async () => {
    const { id } = await imported(await fresh(), OPEN)
    const put = (reading: unknown) =>
      SAY(jsonRequest(`/api/logs/${id}/reading`, 'PUT', reading), params({ id }))
    expect((await put({ dayOrder: 'month-first' })).status).toBe(200)
    await queueIdle()
    expect((await state(id)).log.startedAt).toMatch(/^2026-03-04T/)
    await put({})
    await queueIdle()
    expect(await state(id)).toMatchObject({
      reading: null,
      log: { startedAt: expect.stringMatching(/^2026-04-03T/) },
    })
  })

  it('puts a log in the place of another one, once it is stored', async () => {
    const machine = await fresh()
    const first = await imported(machine, LINES.slice(0, 300).join('\n'))
    const failed = await imported(machine, 'no table', { replaces: first.id })
    expect(failed.state).toBe('failed')
    expect((await state(first.id)).state).toBe('done')
    const second = await imported(machine, LINES.join('\n'), { replaces: first.id })
    expect(second.state).toBe('done')
    const stored = (await listLogs(db(), machine)).filter((row) => row.state === 'done')
    expect(stored.map((row) => row.id)).toEqual([second.id])
    await problemOf(await post(machine, OPEN, { replaces: 'nobody' }), 404, 'unknown-log')
    await problemOf(await post(await fresh(), OPEN, { replaces: second.id }), 404, 'unknown-log')
  })
})

describe('remembered layouts', () => {
  it('are applied to the next file of the same shape where that is asked for, and kept with its log', async () => {
    const machine = await fresh()
    const { layout } = await problemOf(await inspect(machine, STRANGE), 422, 'no-usable-channel')
    const reading = { channels: CHANNELS, startedAt: '2026-01-01' }
    const answer = await remember(machine, { layout, reading, author: 'A. Fitter', fileName: 'shift.csv' })
    expect(answer.status).toBe(201)
    const made = layoutAnswerSchema.parse(await answer.json())
    // A start belongs to one recording.
    expect(made).toMatchObject({ author: 'A. Fitter', reading: { channels: CHANNELS }, usedAt: null })
    expect(made.reading).not.toHaveProperty('startedAt')

    await problemOf(await inspect(machine, STRANGE), 422, 'no-usable-channel')
    const next = await (await inspect(machine, STRANGE, { layout: 'fitting' })).json()
    const from = { id: made.id, at: made.createdAt, by: 'A. Fitter' }
    expect(next.reading).toEqual({ reading: { channels: CHANNELS }, remembered: from })
    expect(next.questions).toEqual([])

    const log = await imported(machine, STRANGE, { layout: made.id })
    expect(log).toMatchObject({ state: 'done', reading: { remembered: from } })
    expect((await remembered(machine))[0].usedAt).not.toBeNull()
  })

  it('take the place of what was remembered of the same layout, and are forgotten', async () => {
    const machine = await fresh()
    const { layout } = await (await inspect(machine, OPEN)).json()
    await remember(machine, { layout, reading: { dayOrder: 'day-first' } })
    await remember(machine, { layout, reading: { dayOrder: 'month-first' } })
    const [only, ...others] = await remembered(machine)
    expect(others).toEqual([])
    const { startedAt } = await (await inspect(machine, OPEN, { layout: 'fitting' })).json()
    expect(startedAt).toMatch(/^2026-03-04T/)
    const forget = () =>
      FORGET(request(only.url, { method: 'DELETE' }), params({ id: machine, layout: only.id }))
    expect((await forget()).status).toBe(204)
    await problemOf(await forget(), 404, 'unknown-layout')
    await problemOf(await post(machine, OPEN, { layout: only.id }), 404, 'unknown-layout')
    const again = await (await inspect(machine, OPEN, { layout: 'fitting' })).json()
    expect(again.questions).toHaveLength(1)
  })

  it('are followed only where the file leaves it open: what it says itself stands', async () => {
    const machine = await fresh()
    const { layout } = await (await inspect(machine, OPEN)).json()
    await remember(machine, { layout, reading: { dayOrder: 'month-first' } })
    const proven = OPEN.replaceAll('03/04/2026', '25/04/2026')
    const answer = await (await inspect(machine, proven, { layout: 'fitting' })).json()
    expect(answer.startedAt).toMatch(/^2026-04-25T/)
    const note = answer.report.problems.find(({ code }: { code: string }) => code === 'answer-not-used')
    expect(note.message).toContain('the order of day and month')
  })

  it('belong to their machine', async () => {
    const machine = await fresh()
    const { layout } = await (await inspect(machine, OPEN)).json()
    await remember(machine, { layout, reading: { dayOrder: 'month-first' } })
    const other = await (await inspect(await fresh(), OPEN, { layout: 'fitting' })).json()
    expect(other).toMatchObject({ reading: null, questions: [{ id: 'dayOrder' }] })
  })
})
