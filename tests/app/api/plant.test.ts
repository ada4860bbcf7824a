import { describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { machineAnswerSchema, monthAnswerSchema } from '@/app/_server/shapes'
import { POST as POST_LOG } from '@/app/api/logs/route'
import { DELETE, GET, PUT } from '@/app/api/machines/[id]/route'
import { GET as LIST, POST } from '@/app/api/machines/route'
import { GET as GET_MONTH } from '@/app/api/months/[month]/route'
import { GET as GET_OPENAPI } from '@/app/api/openapi.json/route'
import { GET as GET_SITE, PUT as PUT_SITE } from '@/app/api/site/route'
import { siteSchema } from '@/lib/contract/site'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'
import { routesInFiles } from './route-files'

const NAME = 'baler-line-flow'
const machine = sampleMachine(NAME)

apiDatabase()

const make = async (query = '') =>
  (await POST(jsonRequest(`/api/machines${query}`, 'POST', machine), noParams)).json()
const get = (id: string) => GET(request(`/api/machines/${id}`), params({ id }))
const put = (id: string, body: unknown, query = '') =>
  PUT(jsonRequest(`/api/machines/${id}${query}`, 'PUT', body), params({ id }))

describe('/api/machines', () => {
  it('makes a machine from MACHINE.json and gives it back', async () => {
    const answer = await POST(jsonRequest('/api/machines?line=A&trade=baler', 'POST', machine), noParams)
    expect(answer.status).toBe(201)
    const made = machineAnswerSchema.parse(await answer.json())
    expect(answer.headers.get('location')).toBe(`/api/machines/${made.id}`)
    expect(made).toMatchObject({ name: machine.name, line: 'A', trade: 'baler', machine, refreshing: false })
    expect(await (await get(made.id)).json()).toEqual(made)
    const { machines } = await (await LIST(request('/api/machines'), noParams)).json()
    expect(machines).toContainEqual(made)
  })

  it('gives two machines of one name ids of their own', async () => {
    const [one, other] = [await make(), await make()]
    expect(one.id).toMatch(/^[a-z0-9-]+$/)
    expect(other.id).not.toBe(one.id)
  })

  it('names every field that is missing or wrong', async () => {
    const wrong = { ...machine, motor: { ...machine.motor, poles: 3 }, pump: undefined }
    const answer = await POST(jsonRequest('/api/machines', 'POST', wrong), noParams)
    const { issues } = await problemOf(answer, 422, 'invalid-shape')
    const paths = issues.map(({ path }: { path: string[] }) => path.join('.'))
    expect(paths).toEqual(expect.arrayContaining(['motor.poles', 'pump']))
    expect(issues.find(({ path }: { path: string[] }) => path[0] === 'pump')).toMatchObject({
      expected: 'object',
    })
    const text = request('/api/machines', { method: 'POST', body: '{"version":' })
    await problemOf(await POST(text, noParams), 400, 'not-json')
  })

  it('changes and deletes a machine, and knows no other', async () => {
    const { id } = await make('?line=A')
    const changed = await (await put(id, { ...machine, name: 'Renamed' }, '?line=')).json()
    expect(changed).toMatchObject({ id, name: 'Renamed', line: null })
    const gone = () => DELETE(request(`/api/machines/${id}`, { method: 'DELETE' }), params({ id }))
    expect((await gone()).status).toBe(204)
    await problemOf(await gone(), 404, 'unknown-machine')
    await problemOf(await get(id), 404, 'unknown-machine')
    await problemOf(await put(id, machine), 404, 'unknown-machine')
    await queueIdle()
  })
})

describe('/api/site and /api/months', () => {
  it('cost a month at the site’s price, again after it changed', async () => {
    const { id } = await make()
    const upload = request(`/api/logs?machine=${id}`, {
      method: 'POST',
      body: new Uint8Array(sampleBytes(`${NAME}.csv`)),
    })
    await POST_LOG(upload, noParams)
    await queueIdle()
    const month = async () =>
      monthAnswerSchema.parse(
        await (await GET_MONTH(request('/api/months/2026-09'), params({ month: '2026-09' }))).json(),
      )
    const own = async () => (await month()).machines.find(({ machineId }) => machineId === id)
    const before = (await own())?.summary?.measured.electric
    expect(before?.kWh).toBeGreaterThan(0)

    const settings = siteSchema.parse({ energyPricePerKWh: 0.6, currency: 'CHF', timeZone: 'Europe/Zurich' })
    expect(await (await PUT_SITE(jsonRequest('/api/site', 'PUT', settings), noParams)).json()).toEqual(
      settings,
    )
    await queueIdle()
    expect(await (await GET_SITE(request('/api/site'), noParams)).json()).toEqual(settings)
    const after = (await own())?.summary?.measured.electric
    expect(after?.kWh).toBeCloseTo(before?.kWh ?? 0, 9)
    expect(after?.cost).toBeCloseTo((before?.cost ?? 0) * 3, 9)
    expect((await month()).currency).toBe('CHF')
  })

  it('have no data, not zero, for a machine without a log in the month', async () => {
    const { id } = await make()
    const answer = await GET_MONTH(request('/api/months/2019-01'), params({ month: '2019-01' }))
    const { machines } = monthAnswerSchema.parse(await answer.json())
    expect(machines.find(({ machineId }) => machineId === id)).toMatchObject({ summary: null, rows: [] })
  })

  it('refuse a month or a time zone that is none', async () => {
    const bad = await GET_MONTH(request('/api/months/2026-13'), params({ month: '2026-13' }))
    await problemOf(bad, 400, 'bad-query')
    const zone = jsonRequest('/api/site', 'PUT', { timeZone: 'Europe/Nowhere' })
    const { issues } = await problemOf(await PUT_SITE(zone, noParams), 422, 'invalid-shape')
    expect(issues[0].path).toEqual(['timeZone'])
  })
})

describe('/api/openapi.json', () => {
  it('describes every route there is, each reference found', async () => {
    const api = await (await GET_OPENAPI(request('/api/openapi.json'), noParams)).json()
    expect(api.openapi).toBe('3.1.0')
    const routes = Object.entries<Record<string, unknown>>(api.paths).flatMap(([path, operations]) =>
      Object.keys(operations)
        .filter((name) => name !== 'parameters')
        .map((name) => `${name} ${path}`),
    )
    expect(routes.sort()).toEqual(routesInFiles())
    const text = JSON.stringify(api)
    for (const [, name] of text.matchAll(/"#\/components\/schemas\/(\w+)"/g))
      expect(api.components.schemas).toHaveProperty(name)
    expect(text).toContain('"energyPricePerKWh"')
  })
})
