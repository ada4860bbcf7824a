import { expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { evidenceAnswerSchema } from '@/app/_server/evidence-shapes'
import { reportView } from '@/app/_server/views/report-view'
import { GET, POST } from '@/app/api/logs/[id]/evidence/route'
import { GET as GET_LOG } from '@/app/api/logs/[id]/route'
import { newLog, newMachine } from '../../db/fixtures'
import { arrivedSample, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, params, problemOf, request } from './harness'

const NAME = 'shear-pump-flow'
const db = apiDatabase()
const path = (id: string) => `/api/logs/${id}/evidence`
const post = (id: string, body: unknown) => POST(jsonRequest(path(id), 'POST', body), params({ id }))
const list = async (id: string) => (await (await GET(request(path(id)), params({ id }))).json()).evidence
const result = async (id: string) => (await GET_LOG(request(`/api/logs/${id}`), params({ id }))).text()

it('evidence of a sensor is added beside the report, with who and when, and changes neither report nor figures', async () => {
  const machineId = await newMachine(db(), sampleMachine(NAME))
  const key = await newLog(db(), machineId)
  await importLog(db(), key, arrivedSample(`${NAME}.csv`))
  const id = key.logId
  const before = await reportView(db(), machineId, id)
  const column = before?.report.channels[0].column ?? ''
  const figures = await result(id)
  expect(before?.handedIn).toEqual([])

  const first = { serialNumber: ' A\u00007 ', certificateDate: '2026-03-31' }
  const answer = await post(id, { column, evidence: first, author: ' A. Fitter ' })
  expect(answer.status).toBe(201)
  const made = evidenceAnswerSchema.parse(await answer.json())
  expect(made).toMatchObject({
    column,
    evidence: { serialNumber: 'A\ufffd7', certificateDate: '2026-03-31' },
    author: 'A. Fitter',
  })
  expect(Date.now() - Date.parse(made.createdAt)).toBeLessThan(60_000)
  await post(id, { column, evidence: { zeroReading: 0.3 }, author: 'B. Auditor' })
  expect((await list(id)).map(({ author }: { author: string }) => author)).toEqual([
    'A. Fitter',
    'B. Auditor',
  ])

  const after = await reportView(db(), machineId, id)
  expect(after?.report).toEqual(before?.report)
  expect(after?.handedIn).toHaveLength(2)
  expect(await result(id)).toBe(figures)

  for (const body of [
    { column, evidence: {}, author: 'A' },
    { column, evidence: { zeroReading: 1 }, author: ' ' },
    { column, evidence: { certificateDate: '31.03.2026' }, author: 'A' },
  ]) {
    expect((await post(id, body)).status).toBe(422)
  }
  const unknown = await post(id, { column: 'P9', evidence: { zeroReading: 1 }, author: 'A' })
  await problemOf(unknown, 400, 'unknown-sensor')
  expect((await post('nil', { column, evidence: { zeroReading: 1 }, author: 'A' })).status).toBe(404)
  expect(await list(id)).toHaveLength(2)
})
