import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { inspectionSchema } from '@/app/_server/inspection-shapes'
import { POST as INSPECT } from '@/app/api/inspections/route'
import { GET as DOWNLOAD } from '@/app/api/logs/[id]/file/route'
import { POST as INSPECT_STORED } from '@/app/api/logs/[id]/inspections/route'
import { PUT as SAY } from '@/app/api/logs/[id]/reading/route'
import { GET } from '@/app/api/logs/[id]/route'
import { POST as IMPORT } from '@/app/api/logs/route'
import { POST as BEGIN } from '@/app/api/uploads/route'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

const NAME = 'broach-early-relief'
const SHIFT_S = 9
const ROWS = 3601

let folder: string
const before = process.env.TANKWARD_UPLOADS
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-several-test-'))
  process.env.TANKWARD_UPLOADS = folder
})
afterAll(() => {
  if (before === undefined) delete process.env.TANKWARD_UPLOADS
  else process.env.TANKWARD_UPLOADS = before
  rmSync(folder, { recursive: true, force: true })
})

const LINES = sampleBytes(`${NAME}.csv`).toString('utf8').trim().split('\n').slice(0, ROWS)
const [HEADER] = LINES
const CELLS = HEADER.split(',').length
/** Time and some of the columns, its clock behind by so much. */
const columns = (from: number, to: number, behindS = 0): string =>
  LINES.map((line, i) => {
    const [time, ...rest] = line.split(',')
    const stamp =
      i === 0 ? time : new Date(Date.parse(`${time}Z`) - behindS * 1000).toISOString().slice(0, -1)
    return [stamp, ...rest.slice(from - 1, to - 1)].join(',')
  }).join('\n')
// The last column is the electric one: a logger of its own, whose clock is behind.
const HYDRAULIC = columns(1, CELLS - 1)
const ELECTRIC = columns(CELLS - 1, CELLS, SHIFT_S)

const db = apiDatabase()

/** A file sent before, as a browser sends it (tus 1.0.0: creation with upload). */
async function sent(fileName: string, text: string): Promise<string> {
  const body = new TextEncoder().encode(text)
  const headers = {
    'Tus-Resumable': '1.0.0',
    'Upload-Length': String(body.length),
    'Upload-Metadata': `filename ${Buffer.from(fileName).toString('base64')}`,
    'Content-Type': 'application/offset+octet-stream',
  }
  const answer = await BEGIN(request('/api/uploads', { method: 'POST', headers, body }), noParams)
  expect(answer.status).toBe(201)
  return answer.headers.get('location')?.split('/').pop() ?? expect.fail('no Location')
}

const query = (machine: string, uploads: readonly string[], more: Readonly<Record<string, string>> = {}) =>
  new URLSearchParams([['machine', machine], ...Object.entries(more), ...uploads.map((id) => ['upload', id])])
const post = (machine: string, uploads: readonly string[], more: Readonly<Record<string, string>> = {}) =>
  IMPORT(request(`/api/logs?${query(machine, uploads, more)}`, { method: 'POST' }), noParams)
const state = async (id: string) => (await GET(request(`/api/logs/${id}`), params({ id }))).json()
const codesOf = (log: { log: { problems: { code: string }[] } }) => log.log.problems.map(({ code }) => code)

describe('several uploads', () => {
  it('are one recording: asked about, joined, kept and given back each as it was', async () => {
    const machine = await newMachine(db(), sampleMachine(NAME))
    const uploads = [await sent('oil.csv', HYDRAULIC), await sent('power.csv', ELECTRIC)]

    const path = `/api/inspections?${query(machine, uploads)}`
    const inspection = inspectionSchema.parse(
      await (await INSPECT(request(path, { method: 'POST' }), noParams)).json(),
    )
    expect(inspection.report.parts).toEqual([
      { fileName: 'oil.csv', rowsRead: ROWS - 1 },
      { fileName: 'power.csv', rowsRead: ROWS - 1 },
    ])
    expect(inspection.report.channels).toHaveLength(sampleMachine(NAME).channels?.length ?? CELLS - 1)
    const question = inspection.questions.find(({ id }) => id === 'clockShift')
    expect(question).toMatchObject({
      column: 'power.csv',
      choices: [{ value: '0', likelier: false }, { likelier: true }],
    })
    expect(Math.abs(Number(question?.choices[1].value) - SHIFT_S)).toBeLessThan(0.5)

    const answer = await post(machine, uploads)
    expect(answer.status).toBe(202)
    const { id } = await answer.json()
    await queueIdle()
    const done = await state(id)
    expect(done).toMatchObject({ state: 'done', fileName: 'oil.csv + power.csv' })
    expect(codesOf(done)).toContain('assumed-clock-shift')
    for (const [part, text] of [HYDRAULIC, ELECTRIC].entries()) {
      const file = await DOWNLOAD(request(`/api/logs/${id}/file?part=${part}`), params({ id }))
      expect(await file.text()).toBe(text)
      expect(file.headers.get('content-disposition')).toContain(['oil.csv', 'power.csv'][part])
    }
    const beyond = await DOWNLOAD(request(`/api/logs/${id}/file?part=2`), params({ id }))
    await problemOf(beyond, 400, 'bad-query')

    // What the stored files leave open can be asked again, as for files that are on their way.
    const stored = await INSPECT_STORED(
      jsonRequest(`/api/logs/${id}/inspections`, 'POST', {}),
      params({ id }),
    )
    expect(inspectionSchema.parse(await stored.json()).questions).toEqual(inspection.questions)

    // The same files in the other order are the same recording.
    const again = await post(machine, [...uploads].reverse())
    expect([again.status, (await again.json()).id]).toEqual([200, id])

    // As a person says it: the files are read again, the earlier figures stay until then.
    const said = { clockShifts: { 'power.csv': 0 } }
    expect((await SAY(jsonRequest(`/api/logs/${id}/reading`, 'PUT', said), params({ id }))).status).toBe(200)
    await queueIdle()
    const asStamped = await state(id)
    expect(asStamped.error).toBeUndefined()
    expect(codesOf(asStamped)).not.toContain('assumed-clock-shift')
    expect(asStamped.model.cvRmse).toBeGreaterThan(done.model.cvRmse * 2)
  })
  it('are refused together where one is not there, and nothing is stored', async () => {
    const machine = await newMachine(db(), sampleMachine(NAME))
    const answer = await post(machine, [await sent('oil.csv', HYDRAULIC), 'no-such-upload'])
    await problemOf(answer, 404, 'unknown-upload')
    expect(await (await post(machine, [await sent('a.csv', HYDRAULIC)])).json()).toMatchObject({
      state: 'received',
    })
    await queueIdle()
  })
})
