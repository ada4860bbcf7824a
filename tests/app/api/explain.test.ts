import { eq } from 'drizzle-orm'
import { beforeAll, describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { explanationAnswerSchema, explanationsAnswerSchema } from '@/app/_server/explanation-shape'
import { GET } from '@/app/api/logs/[id]/explain/route'
import { GET as GET_LOG } from '@/app/api/logs/[id]/route'
import { POST } from '@/app/api/logs/route'
import { analyses } from '@/db/schema/analyses'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, noParams, params, problemOf, request } from './harness'

const NAME = 'broach-early-relief'

const db = apiDatabase()
const ask = (id: string, figure?: string) =>
  GET(request(`/api/logs/${id}/explain${figure ? `?figure=${figure}` : ''}`), params({ id }))

describe('GET /api/logs/ID/explain', () => {
  let id = ''
  beforeAll(async () => {
    const machineId = await newMachine(db(), sampleMachine(NAME))
    const body = new Uint8Array(sampleBytes(`${NAME}.csv`))
    const sent = { method: 'POST', body, headers: { 'Content-Length': String(body.length) } }
    id = (await (await POST(request(`/api/logs?machine=${machineId}`, sent), noParams)).json()).id
    const early = await ask(id, 'ledgerKWh.overRelief')
    await problemOf(early, 409, 'not-ready')
    await queueIdle()
  }, 60_000)

  it('explains a figure as the stored result shows it, in the published shape', async () => {
    const answer = await (await ask(id, 'ledgerKWh.overRelief')).json()
    expect(explanationAnswerSchema.parse(answer)).toEqual(answer)
    const { ledgerKWh } = await (await GET_LOG(request(`/api/logs/${id}`), params({ id }))).json()
    expect(answer).toMatchObject(ledgerKWh.overRelief)
    expect(answer.formula.message).toContain('Q_relief')
  })

  it('lists what can be explained, and explains all of it', async () => {
    const { figures } = explanationsAnswerSchema.parse(await (await ask(id)).json())
    expect(figures).toContain('idle.costPerYear')
    const all = explanationsAnswerSchema.parse(await (await ask(id, 'all')).json())
    expect(all.figures).toEqual(figures)
    expect(all.explanations?.map(({ figure }) => figure)).toEqual(figures)
  })

  it('has words for every code it answers with', async () => {
    const text = await (await ask(id, 'all')).text()
    expect(text).not.toMatch(/No words for|undefined|NaN/)
  })

  it('says what it does not know', async () => {
    await problemOf(await ask(id, 'ledgerKWh.steam'), 404, 'unknown-figure')
    await problemOf(await ask('nobody', 'ledgerKWh.overRelief'), 404, 'unknown-log')
    await db().update(analyses).set({ grounds: null }).where(eq(analyses.logId, id))
    await problemOf(await ask(id, 'ledgerKWh.overRelief'), 409, 'not-explained')
  })
})
