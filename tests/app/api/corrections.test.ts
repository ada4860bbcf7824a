import { describe, expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { queueIdle, queueRefresh } from '@/app/_jobs/queue'
import { correctionAnswerSchema, correctionsAnswerSchema } from '@/app/_server/shapes'
import { DELETE } from '@/app/api/logs/[id]/corrections/[correction]/route'
import { GET, POST } from '@/app/api/logs/[id]/corrections/route'
import { GET as GET_LOG } from '@/app/api/logs/[id]/route'
import { updateMachine } from '@/db/queries/machines'
import type { Phase, Result } from '@/lib/contract/result'
import { newLog, newMachine } from '../../db/fixtures'
import { arrivedSample, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, params, problemOf, request } from './harness'

const NAME = 'shear-pump-flow'
const machine = sampleMachine(NAME)
const db = apiDatabase()

async function imported() {
  const machineId = await newMachine(db(), machine)
  const key = await newLog(db(), machineId)
  await importLog(db(), key, arrivedSample(`${NAME}.csv`))
  return key
}

const result = async (id: string): Promise<Result & { computedAt: string }> =>
  (await GET_LOG(request(`/api/logs/${id}`), params({ id }))).json()
const path = (id: string) => `/api/logs/${id}/corrections`
const post = (id: string, body: unknown) => POST(jsonRequest(path(id), 'POST', body), params({ id }))
const list = async (id: string) =>
  correctionsAnswerSchema.parse(await (await GET(request(path(id)), params({ id }))).json())
const undo = (id: string, correction: string) =>
  DELETE(request(`${path(id)}/${correction}`, { method: 'DELETE' }), params({ id, correction }))

/** All of a result that is a figure and not the moment it was made. */
const figures = ({ computedAt: _, ...rest }: Result & { computedAt: string }) => rest
const longestIdle = (phases: readonly Phase[]): Phase =>
  phases
    .filter(({ kind }) => kind === 'idle-loaded')
    .reduce((a, b) => (b.endS - b.startS > a.endS - a.startS ? b : a))

describe('/api/logs/ID/corrections', () => {
  it('corrects a stretch, analyses the log again, marks it, and gives the old figures back when undone', async () => {
    const { logId } = await imported()
    const before = await result(logId)
    expect(before.corrections).toEqual([])
    const { startS, endS } = longestIdle(before.phases)
    const body = { startS, endS, kind: 'work-holding', reason: ' pressing a seized bush ' }
    const answer = await post(logId, body)
    expect(answer.status).toBe(201)
    const made = correctionAnswerSchema.parse(await answer.json())
    expect(answer.headers.get('location')).toBe(`${path(logId)}/${made.id}`)
    expect(made).toMatchObject({
      startS,
      endS,
      author: null,
      reason: 'pressing a seized bush',
      applied: null,
    })
    const startedMs = Date.parse(before.log.startedAt ?? '')
    expect(Date.parse(made.startAt ?? '')).toBeCloseTo(startedMs + startS * 1000, -1)
    await queueIdle()

    const after = await result(logId)
    const touched = after.phases.filter((phase) => phase.corrected)
    expect(touched).toHaveLength(1)
    expect(touched[0].kind).toBe('work-holding')
    expect(touched[0].startS).toBeLessThanOrEqual(startS)
    expect(before.idle.hours - after.idle.hours).toBeCloseTo((endS - startS) / 3600, 9)
    expect(after.ledgerKWh.electricIn.value / before.ledgerKWh.electricIn.value).toBeCloseTo(1, 2)
    const { corrections, upToDate, refresh } = await list(logId)
    expect({ upToDate, refresh }).toEqual({ upToDate: true, refresh: null })
    expect(corrections).toHaveLength(1)
    expect(corrections[0].applied?.foundS['idle-loaded']).toBeCloseTo(endS - startS, 6)
    expect(corrections[0].applied?.inForceS).toBeCloseTo(endS - startS, 6)

    expect((await undo(logId, made.id)).status).toBe(204)
    await queueIdle()
    expect(figures(await result(logId))).toEqual(figures(before))
    expect(await list(logId)).toEqual({ corrections: [], upToDate: true, refresh: null })
    await problemOf(await undo(logId, made.id), 404, 'unknown-correction')
  })

  it('keeps a correction in force where the set-up changes, whether the file is read again or not', async () => {
    const { logId, machineId } = await imported()
    const { phases } = await result(logId)
    const { startS, endS } = longestIdle(phases)
    await post(logId, { startS, endS, kind: 'starting', author: 'A. Fitter' })
    await queueIdle()
    const [first, ...others] = machine.channels ?? expect.fail('the sample declares its channels')
    const relief = { ...machine.relief, settingBar: machine.relief.settingBar + 1 }
    const channels = [{ ...first, accuracy: { percentOfReading: 2 } }, ...others]
    for (const config of [
      { ...machine, relief },
      { ...machine, channels },
    ]) {
      const { computedAt } = await result(logId)
      await updateMachine(db(), machineId, { config })
      await queueRefresh(db(), machineId)
      const again = await result(logId)
      expect(again.computedAt).not.toBe(computedAt)
      expect(again.corrections).toMatchObject([{ startS, endS, kind: 'starting' }])
      const touched = again.phases.filter((phase) => phase.corrected)
      expect(touched).toMatchObject([{ kind: 'starting', startS, endS }])
    }
    expect((await list(logId)).corrections).toMatchObject([{ author: 'A. Fitter', kind: 'starting' }])
  })

  it('lists both of an overlapping pair, and tells which is in force', async () => {
    const { logId } = await imported()
    await post(logId, { startS: 10, endS: 20, kind: 'stopped' })
    await post(logId, { startS: 5, endS: 25, kind: 'work-moving' })
    await queueIdle()
    const { corrections, upToDate } = await list(logId)
    expect(upToDate).toBe(true)
    expect(corrections.map(({ kind, applied }) => [kind, applied?.inForceS])).toEqual([
      ['stopped', 0],
      ['work-moving', expect.closeTo(20, 6)],
    ])
  })

  it('refuses what cannot act on the log, with place, expected and found, and stores nothing', async () => {
    const { logId } = await imported()
    const { log } = await result(logId)
    const far = log.durationS + 10
    const outside = await problemOf(
      await post(logId, { startS: 1, endS: far, kind: 'stopped' }),
      422,
      'correction-outside',
    )
    expect(outside.values).toEqual({ correction: 1, startS: 1, endS: far, durationS: log.durationS })
    expect(outside.detail).toMatch(/Correction 1: expected a stretch within 0 s and .* s, found 1 s to /)
    const between = log.sampleIntervalS / 10
    await problemOf(
      await post(logId, { startS: 1 + between, endS: 1 + 3 * between, kind: 'stopped' }),
      422,
      'correction-without-samples',
    )
    for (const wrong of [
      { startS: 5, endS: 5, kind: 'stopped' },
      { startS: -1, endS: 5, kind: 'stopped' },
      { startS: 1, endS: 5, kind: 'dozing' },
      { startS: 1, endS: 5 },
      { startS: 1, endS: 5, kind: 'stopped', reason: 'x'.repeat(2001) },
    ]) {
      const { issues } = await problemOf(await post(logId, wrong), 422, 'invalid-shape')
      expect(issues).toHaveLength(1)
    }
    expect((await list(logId)).corrections).toEqual([])
  })

  it('knows no other log, and takes none for one that is not imported yet', async () => {
    const body = { startS: 1, endS: 5, kind: 'stopped' }
    await problemOf(await post('nobody', body), 404, 'unknown-log')
    await problemOf(await GET(request(path('nobody')), params({ id: 'nobody' })), 404, 'unknown-log')
    const { logId } = await newLog(db(), await newMachine(db(), machine))
    await problemOf(await post(logId, body), 409, 'not-ready')
  })

  it('needs the token to write where one is set', async () => {
    const { logId } = await imported()
    process.env.TANKWARD_TOKEN = 'a secret'
    try {
      await problemOf(await post(logId, { startS: 1, endS: 5, kind: 'stopped' }), 401, 'token-missing')
      await problemOf(await undo(logId, 'any'), 401, 'token-missing')
    } finally {
      delete process.env.TANKWARD_TOKEN
    }
  })
})
