import { gzipSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { inspectionSchema } from '@/app/_server/inspection-shapes'
import { doneLogSchema, samplesSchema } from '@/app/_server/shapes'
import { POST as INSPECT } from '@/app/api/inspections/route'
import { GET as GET_FILE } from '@/app/api/logs/[id]/file/route'
import { DELETE, GET } from '@/app/api/logs/[id]/route'
import { GET as GET_SAMPLES } from '@/app/api/logs/[id]/samples/route'
import { POST } from '@/app/api/logs/route'
import { listLogs } from '@/db/queries/logs'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, noParams, params, problemOf, request } from './harness'

const NAME = 'broach-early-relief'
const CSV = sampleBytes(`${NAME}.csv`)

const db = apiDatabase()
const fresh = () => newMachine(db(), sampleMachine(NAME))

const post = (
  machineId: string,
  body: Uint8Array,
  headers: Record<string, string> = {},
  name = 'shift.csv',
) =>
  POST(
    request(`/api/logs?machine=${machineId}&name=${encodeURIComponent(name)}`, {
      method: 'POST',
      body: new Uint8Array(body),
      headers: { 'Content-Length': String(body.length), ...headers },
    }),
    noParams,
  )

const get = async (id: string) => (await GET(request(`/api/logs/${id}`), params({ id }))).json()

/** A log that is imported. */
async function imported(body: Uint8Array = CSV, headers: Record<string, string> = {}, name?: string) {
  const { id } = await (await post(await fresh(), body, headers, name)).json()
  await queueIdle()
  return String(id)
}

describe('POST /api/logs', () => {
  it('answers 202 with where to ask, and there the result in the contract’s shape', async () => {
    const machineId = await fresh()
    const answer = await post(machineId, CSV)
    expect(answer.status).toBe(202)
    const { id, url, state } = await answer.json()
    expect(answer.headers.get('location')).toBe(`/api/logs/${id}`)
    expect({ url, state }).toEqual({ url: `/api/logs/${id}`, state: 'received' })
    await queueIdle()
    const log = await get(id)
    expect(() => doneLogSchema.parse(log)).not.toThrow()
    expect(log).toMatchObject({
      id,
      machineId,
      state: 'done',
      progress: 1,
      version: 1,
      fileName: 'shift.csv',
    })
    expect(log.phases.length).toBeGreaterThan(0)
    expect(log.options[0].id).toMatch(/^[a-z-]+$/)
  })

  it('answers 200 with the first one’s id for the same file, packed or not, and stores nothing twice', async () => {
    const machineId = await fresh()
    const first = await (await post(machineId, CSV)).json()
    await queueIdle()
    const packed = gzipSync(CSV)
    const again = [
      await post(machineId, CSV),
      await post(machineId, packed, { 'Content-Encoding': 'gzip' }),
      await post(machineId, packed, {}, 'shift.csv.gz'),
    ]
    for (const answer of again) {
      expect(answer.status).toBe(200)
      expect(await answer.json()).toMatchObject({ id: first.id, state: 'done' })
    }
    expect(await listLogs(db(), machineId)).toHaveLength(1)
  })

  it('refuses a body of another length than announced, and keeps nothing of it', async () => {
    const machineId = await fresh()
    const answer = await post(machineId, CSV, { 'Content-Length': String(CSV.length + 10) })
    const { values } = await problemOf(answer, 400, 'body-cut')
    expect(values).toEqual({ received: CSV.length, announced: String(CSV.length + 10) })
    expect(await listLogs(db(), machineId)).toEqual([])
  })

  it('refuses a packed file that is cut', async () => {
    const packed = gzipSync(CSV)
    const cut = packed.subarray(0, packed.length - 20)
    await problemOf(await post(await fresh(), cut, { 'Content-Encoding': 'gzip' }), 422, 'gzip-damaged')
    await problemOf(await post(await fresh(), CSV, { 'Content-Encoding': 'gzip' }), 422, 'gzip-damaged')
  })

  it('says what is wrong with a request', async () => {
    const bare = (path: string, headers = {}) =>
      POST(request(path, { method: 'POST', headers, body: 'a,b\n' }), noParams)
    const machineId = await fresh()
    await problemOf(await bare('/api/logs'), 400, 'machine-missing')
    await problemOf(await bare('/api/logs?machine=nobody'), 404, 'unknown-machine')
    await problemOf(await post(machineId, new Uint8Array(0)), 400, 'empty-body')
    const form = { 'Content-Type': 'multipart/form-data; boundary=x' }
    await problemOf(await bare(`/api/logs?machine=${machineId}`, form), 415, 'form-body')
    const brotli = { 'Content-Encoding': 'br' }
    await problemOf(await bare(`/api/logs?machine=${machineId}`, brotli), 415, 'unknown-encoding')
  })

  it('says in the log’s state why a file could not be understood, with words', async () => {
    const id = await imported(Buffer.from('%PDF-1.7 not a log'))
    const log = await get(id)
    expect(log).toMatchObject({ id, state: 'failed', error: { code: 'file-pdf' } })
    expect(log.error.title).toMatch(/\w+ \w+/)
    expect(log).not.toHaveProperty('phases')
  })

  it('needs the token to write where one is set, and not to read', async () => {
    const id = await imported()
    process.env.TANKWARD_TOKEN = 'a secret'
    try {
      const machineId = await fresh()
      const refused = await post(machineId, CSV)
      expect(refused.headers.get('www-authenticate')).toBe('Bearer')
      await problemOf(refused, 401, 'token-missing')
      await problemOf(await post(machineId, CSV, { Authorization: 'Bearer another' }), 401, 'token-missing')
      expect((await post(machineId, CSV, { Authorization: 'Bearer a secret' })).status).toBe(202)
      expect(await get(id)).toMatchObject({ state: 'done' })
    } finally {
      delete process.env.TANKWARD_TOKEN
      await queueIdle()
    }
  })
})

describe('a write', () => {
  it('is refused where a page of another site sent it, and goes where this app or a script did', async () => {
    const machineId = await fresh()
    const from = (site: string) => post(machineId, CSV, { 'Sec-Fetch-Site': site })
    await problemOf(await from('cross-site'), 403, 'cross-site')
    await problemOf(await from('same-site'), 403, 'cross-site')
    expect(await listLogs(db(), machineId)).toEqual([])
    expect((await from('same-origin')).status).toBe(202)
    await queueIdle()
  })
})

describe('GET /api/logs/ID/file', () => {
  const file = async (id: string) => GET_FILE(request(`/api/logs/${id}/file`), params({ id }))

  it('gives the original byte for byte, as text or packed as it came', async () => {
    const packed = gzipSync(CSV)
    const asText = await file(await imported(packed, { 'Content-Encoding': 'gzip' }, 'Schicht 1 – früh.csv'))
    expect(Buffer.from(await asText.arrayBuffer()).equals(CSV)).toBe(true)
    expect(asText.headers.get('content-length')).toBe(String(CSV.length))
    // RFC 8187's form of the name beside one in plain ASCII.
    expect(asText.headers.get('content-disposition')).toBe(
      `attachment; filename="Schicht 1 _ fr_h.csv"; filename*=UTF-8''Schicht%201%20%E2%80%93%20fr%C3%BCh.csv`,
    )
    const asCame = await file(await imported(packed, {}, 'shift.csv.gz'))
    expect(Buffer.from(await asCame.arrayBuffer()).equals(packed)).toBe(true)
    expect(asCame.headers.get('content-length')).toBe(String(packed.length))
  })

  it('has nothing to give of a failed import', async () => {
    await problemOf(await file(await imported(Buffer.from('GIF89a no log'))), 409, 'not-ready')
  })
})

describe('GET /api/logs/ID/samples', () => {
  const samples = async (id: string, query: string) =>
    GET_SAMPLES(request(`/api/logs/${id}/samples?${query}`), params({ id }))

  it('gives a window’s single samples and extremes as the file has them', async () => {
    const id = await imported()
    const rows = CSV.toString('utf8').trimEnd().split('\n').slice(1)
    const pressures = rows.map((row) => Number(row.split(',')[1]))
    const channel = encodeURIComponent('Pump pressure [bar]')

    const near = samplesSchema.parse(
      await (await samples(id, `channels=${channel}&from=10&to=15&points=100`)).json(),
    )
    expect(near.bucketSamples).toBe(1)
    expect(near.buckets.startS).toEqual(Array.from({ length: 21 }, (_, i) => 10 + i * 0.25))
    expect(near.channels[0]).toMatchObject({ name: 'Pump pressure [bar]', unit: 'bar' })
    expect(near.channels[0].mean).toEqual(pressures.slice(40, 61))

    const far = samplesSchema.parse(
      await (await samples(id, `channels=${channel},stream:overRelief&points=50`)).json(),
    )
    expect(far.samples).toBe(rows.length)
    expect(far.buckets.startS.length).toBeLessThanOrEqual(50)
    expect(Math.max(...far.channels[0].max.map(Number))).toBe(Math.max(...pressures))
    expect(Math.min(...far.channels[0].min.map(Number))).toBe(Math.min(...pressures))
    expect(far.channels.map(({ name, unit }) => [name, unit])[1]).toEqual(['stream:overRelief', 'W'])
  })

  it('gives every logged channel where none is named, and nothing past the end', async () => {
    const id = await imported()
    const all = await (await samples(id, 'points=10')).json()
    expect(all.channels).toHaveLength(5)
    const past = await (await samples(id, 'from=1e9&to=2e9')).json()
    expect(past.buckets.startS.length).toBeLessThanOrEqual(1)
  })

  it('says what is wrong with a query', async () => {
    const id = await imported()
    const { values } = await problemOf(await samples(id, 'channels=P9'), 400, 'unknown-channel')
    expect(values.known).toContain('Pump pressure [bar]')
    for (const query of ['points=1', 'points=4001', 'points=2.5', 'from=soon'])
      await problemOf(await samples(id, query), 400, 'bad-query')
    await problemOf(await samples('nothing', ''), 404, 'unknown-log')
  })
})

describe('POST /api/inspections', () => {
  const inspect = (query: string, body: Uint8Array) =>
    INSPECT(request(`/api/inspections?${query}`, { method: 'POST', body: new Uint8Array(body) }), noParams)

  it('says what was understood and stores nothing', async () => {
    const machineId = await fresh()
    const answer = await inspect(`machine=${machineId}&name=a.csv`, CSV)
    expect(answer.status).toBe(200)
    const seen = inspectionSchema.parse(await answer.json())
    expect(seen).toMatchObject({ fileName: 'a.csv', sampleIntervalS: 0.25, sameAs: null })
    expect(seen.report.channels).toHaveLength(5)
    expect(seen.preview.startS.length).toBeLessThanOrEqual(300)
    expect(await listLogs(db(), machineId)).toEqual([])
  })

  it('knows a file that is stored already, and works without a machine', async () => {
    const machineId = await fresh()
    const { id } = await (await post(machineId, CSV)).json()
    await queueIdle()
    expect(await (await inspect(`machine=${machineId}`, CSV)).json()).toMatchObject({ sameAs: id })
    expect((await inspect('', CSV)).status).toBe(200)
  })

  it('answers a problem for what is no log', async () => {
    await problemOf(await inspect('', Buffer.from('%PDF-1.4')), 422, 'file-pdf')
  })
})

describe('DELETE /api/logs/ID', () => {
  it('undoes an import', async () => {
    const id = await imported()
    const undo = () => DELETE(request(`/api/logs/${id}`, { method: 'DELETE' }), params({ id }))
    expect((await undo()).status).toBe(204)
    await problemOf(await undo(), 404, 'unknown-log')
  })
})
