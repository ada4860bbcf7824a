import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dropLiveLogs } from '@/app/_jobs/live-logs'
import { queueIdle } from '@/app/_jobs/queue'
import { liveAnswerSchema } from '@/app/_server/shapes'
import { POST as POST_OPTION } from '@/app/api/logs/[id]/options/[option]/route'
import { GET as GET_LOG } from '@/app/api/logs/[id]/route'
import { POST } from '@/app/api/logs/route'
import { PUT } from '@/app/api/site/route'
import type { Result } from '@/lib/contract/result'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

const NAME = 'broach-early-relief'
const OPTION = 'vent-relief-at-idle'

const db = apiDatabase()
const ask = (id: string, option: string, body: unknown) =>
  POST_OPTION(jsonRequest(`/api/logs/${id}/options/${option}`, 'POST', body), params({ id, option }))
/** Asks until the log is taken up. */
async function replayed(id: string, option: string, settings: Record<string, number>) {
  for (;;) {
    const answer = await ask(id, option, { settings })
    if (answer.status !== 202) return answer
    expect(answer.headers.get('retry-after')).toBe('1')
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

describe('POST /api/logs/ID/options/OPTION', () => {
  let id = ''
  beforeAll(async () => {
    const machineId = await newMachine(db(), sampleMachine(NAME))
    const body = new Uint8Array(sampleBytes(`${NAME}.csv`))
    const sent = { method: 'POST', body, headers: { 'Content-Length': String(body.length) } }
    id = (await (await POST(request(`/api/logs?machine=${machineId}`, sent), noParams)).json()).id
    await problemOf(await ask(id, OPTION, {}), 409, 'not-ready')
    await queueIdle()
  }, 60_000)
  afterAll(dropLiveLogs)

  const stored = async () => {
    const result = (await (await GET_LOG(request(`/api/logs/${id}`), params({ id }))).json()) as Result
    return result.options.find((option) => option.id === OPTION)
  }

  it('says that it takes the log up, then answers in the published shape as the result does', async () => {
    const first = await ask(id, OPTION, {})
    expect(first.status).toBe(202)
    expect(await first.json()).toEqual({ state: 'preparing' })
    const answer = await (await replayed(id, OPTION, {})).json()
    expect(liveAnswerSchema.parse(answer)).toEqual(answer)
    const found = await stored()
    expect(answer.option.settings).toEqual(found?.settings)
    expect(answer.option.cautions).toEqual(found?.cautions)
    expect(answer.option.savedKWhPerYear.value).toBeCloseTo(found?.savedKWhPerYear?.value ?? 0, -2)
  })

  it('saves less the higher the pressure that is left, with an interval', async () => {
    const shares: number[] = []
    for (const ventBar of [5, 20, 40]) {
      const { option } = await (await replayed(id, OPTION, { ventBar })).json()
      expect(option.settings.ventBar).toBe(ventBar)
      expect(option.savedShare.low).toBeLessThan(option.savedShare.value)
      shares.push(option.savedShare.value)
    }
    expect(shares).toEqual([...shares].sort((a, b) => b - a))
    expect(shares[0]).toBeGreaterThan(shares[2])
    expect((await stored())?.settings.ventBar).not.toBe(40)
  })

  it('says in words what cannot be', async () => {
    await problemOf(await ask('nobody', OPTION, {}), 404, 'unknown-log')
    await problemOf(await ask(id, 'magic', {}), 404, 'unknown-option')
    await problemOf(await ask(id, OPTION, { settings: { ventBar: 'low' } }), 422, 'invalid-shape')
    const odd = await problemOf(await replayed(id, OPTION, { steam: 3 }), 422, 'unknown-setting')
    expect(odd.detail).toContain('"steam"')
    const far = await problemOf(await replayed(id, OPTION, { ventBar: 900 }), 422, 'setting-out-of-range')
    expect(far.detail).toMatch(/^ventBar: expected a number from 0 to \d+.*, got 900\.$/)
  })

  it('never answers with what was true before the site or the machine was changed', async () => {
    const before = await (await replayed(id, OPTION, { ventBar: 20 })).json()
    await PUT(jsonRequest('/api/site', 'PUT', { version: 1, energyPricePerKWh: 0.5 }), noParams)
    const meanwhile = await ask(id, OPTION, { settings: { ventBar: 20 } })
    expect(await meanwhile.json()).toEqual({ state: 'updating' })
    await queueIdle()
    const after = await (await replayed(id, OPTION, { ventBar: 20 })).json()
    expect(after.option.savedKWhPerYear).toEqual(before.option.savedKWhPerYear)
    expect(after.option.savedCostPerYear.value).toBeGreaterThan(1.5 * before.option.savedCostPerYear.value)
  })
})
