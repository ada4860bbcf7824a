import { existsSync, mkdtempSync, readdirSync, rmSync, utimesSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { RESUMABLE_MS, removeOldTempFiles } from '@/app/_jobs/temp-file'
import { POST as INSPECT } from '@/app/api/inspections/route'
import { GET } from '@/app/api/logs/[id]/route'
import { POST as IMPORT } from '@/app/api/logs/route'
import { DELETE, HEAD, PATCH } from '@/app/api/uploads/[upload]/route'
import { OPTIONS, POST } from '@/app/api/uploads/route'
import { listLogs } from '@/db/queries/logs'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, noParams, params, problemOf, request } from './harness'

// What the headers must be is from the tus resumable upload protocol 1.0.0 (tus.io/protocols/resumable-upload).

const NAME = 'broach-early-relief'
const CSV = sampleBytes(`${NAME}.csv`)
const VERSION = { 'Tus-Resumable': '1.0.0' }

let folder: string
const before = process.env.TANKWARD_UPLOADS
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-uploads-test-'))
  process.env.TANKWARD_UPLOADS = folder
})
afterAll(() => {
  if (before === undefined) delete process.env.TANKWARD_UPLOADS
  else process.env.TANKWARD_UPLOADS = before
  rmSync(folder, { recursive: true, force: true })
})

const db = apiDatabase()
const fresh = () => newMachine(db(), sampleMachine(NAME))
const kept = () => readdirSync(join(folder, 'tankward-resumable'))
const waiting = () => readdirSync(join(folder, 'tankward-uploads'))

const begin = (length: number, headers: Record<string, string> = {}) =>
  POST(
    request('/api/uploads', {
      method: 'POST',
      headers: { ...VERSION, 'Upload-Length': String(length), ...headers },
    }),
    noParams,
  )

async function begun(length: number, headers: Record<string, string> = {}): Promise<string> {
  const answer = await begin(length, headers)
  expect(answer.status).toBe(201)
  return answer.headers.get('location')?.split('/').pop() ?? expect.fail('no Location')
}

const to = (id: string, method: string, headers: Record<string, string> = {}, body?: BodyInit) =>
  request(`/api/uploads/${id}`, {
    method,
    headers: { ...VERSION, ...headers },
    body,
    ...(body instanceof ReadableStream ? { duplex: 'half' } : {}),
  })
const send = (id: string, offset: number, body: BodyInit, headers: Record<string, string> = {}) =>
  PATCH(
    to(
      id,
      'PATCH',
      { 'Upload-Offset': String(offset), 'Content-Type': 'application/offset+octet-stream', ...headers },
      body,
    ),
    params({ upload: id }),
  )
const head = (id: string) => HEAD(to(id, 'HEAD'), params({ upload: id }))
const offsetOf = async (id: string) => Number((await head(id)).headers.get('upload-offset'))
const piece = (from: number, end = CSV.length) => new Uint8Array(CSV.subarray(from, end))

const inspect = (machineId: string, upload: string) =>
  INSPECT(request(`/api/inspections?machine=${machineId}&upload=${upload}`, { method: 'POST' }), noParams)
const importIt = (machineId: string, upload: string, name = 'shift.csv') =>
  IMPORT(
    request(`/api/logs?machine=${machineId}&upload=${upload}&name=${name}`, { method: 'POST' }),
    noParams,
  )
const log = async (id: string) => (await GET(request(`/api/logs/${id}`), params({ id }))).json()

/** A body that breaks off after some bytes, as a lost connection shows on the server. */
function broken(bytes: Uint8Array): ReadableStream<Uint8Array> {
  let isSent = false
  return new ReadableStream({
    pull(controller) {
      if (isSent) return controller.error(new Error('aborted'))
      isSent = true
      controller.enqueue(bytes)
    },
  })
}

describe('an upload in pieces', () => {
  it('goes on where a broken connection left it, and is inspected and imported without being sent again', async () => {
    const machineId = await fresh()
    const id = await begun(CSV.length, {
      'Upload-Metadata': `filename ${Buffer.from('Früh.csv').toString('base64')}`,
    })
    expect((await send(id, 0, piece(0, 10_000))).headers.get('upload-offset')).toBe('10000')
    await send(id, 10_000, broken(piece(10_000, 30_000))).catch(() => null)
    const there = await offsetOf(id)
    expect(there).toBeGreaterThanOrEqual(10_000)
    expect(there).toBeLessThanOrEqual(30_000)

    const { values } = await problemOf(await importIt(machineId, id), 409, 'upload-incomplete')
    expect(values).toEqual({ id, received: there, announced: CSV.length })
    expect((await send(id, there, piece(there))).status).toBe(204)

    const seen = await (await inspect(machineId, id)).json()
    expect(seen).toMatchObject({ fileName: 'Früh.csv', sameAs: null })
    const answer = await importIt(machineId, id)
    expect(answer.status).toBe(202)
    const { id: logId } = await answer.json()
    await queueIdle()
    expect(await log(logId)).toMatchObject({ state: 'done', fileName: 'shift.csv' })
    // The received file is the import's own; the upload stays until it is given up, for another try.
    expect(waiting()).toEqual([])
    expect((await importIt(machineId, id)).status).toBe(200)
    expect((await DELETE(to(id, 'DELETE'), params({ upload: id }))).status).toBe(204)
    expect(kept()).toEqual([])
    await problemOf(await importIt(machineId, id), 404, 'unknown-upload')
    expect(await listLogs(db(), machineId)).toHaveLength(1)
  })

  it('knows a packed file, and the same recording however it came', async () => {
    const machineId = await fresh()
    const packed = gzipSync(CSV)
    const id = await begun(packed.length)
    expect((await send(id, 0, new Uint8Array(packed))).status).toBe(204)
    const { id: logId } = await (await importIt(machineId, id, 'shift.csv.gz')).json()
    await queueIdle()
    const plain = await begun(CSV.length)
    await send(plain, 0, piece(0))
    const again = await importIt(machineId, plain)
    expect([again.status, (await again.json()).id]).toEqual([200, logId])
  })

  it('takes the first bytes with the beginning (creation-with-upload)', async () => {
    const answer = await POST(
      request('/api/uploads', {
        method: 'POST',
        headers: {
          ...VERSION,
          'Upload-Length': String(CSV.length),
          'Content-Type': 'application/offset+octet-stream',
        },
        body: piece(0, 500),
      }),
      noParams,
    )
    expect([answer.status, answer.headers.get('upload-offset')]).toEqual([201, '500'])
  })

  it('says what is wrong with a request of the protocol, and takes nothing of it', async () => {
    const id = await begun(100)
    expect(
      (await OPTIONS(request('/api/uploads', { method: 'OPTIONS' }), noParams)).headers.get('tus-version'),
    ).toBe('1.0.0')
    await problemOf(await send(id, 7, 'abc'), 409, 'upload-offset')
    await problemOf(await send(id, 0, 'x'.repeat(101), { 'Content-Length': '101' }), 413, 'upload-too-long')
    await problemOf(await send(id, 0, 'abc', { 'Tus-Resumable': '0.2.2' }), 400, 'bad-upload')
    await problemOf(await send(id, 0, 'abc', { 'Content-Type': 'text/csv' }), 400, 'bad-upload')
    const bare = request('/api/uploads', { method: 'POST', headers: { 'Upload-Length': '5' } })
    await problemOf(await POST(bare, noParams), 412, 'upload-version')
    await problemOf(await begin(Number.NaN), 400, 'bad-upload')
    expect(await offsetOf(id)).toBe(0)
    for (const unknown of ['nothing', '../tankward-uploads', `${id}.json`, '..%2f..%2fetc%2fpasswd']) {
      expect((await head(encodeURIComponent(unknown))).status).toBe(404)
      await problemOf(await importIt(await fresh(), encodeURIComponent(unknown)), 404, 'unknown-upload')
    }
  })

  it('is refused at once where the disk has no room for it', async () => {
    await problemOf(await begin(Number.MAX_SAFE_INTEGER), 507, 'disk-full')
  })

  it('asks for the rights that every write needs', async () => {
    const id = await begun(10)
    process.env.TANKWARD_TOKEN = 'a secret'
    try {
      await problemOf(await begin(10), 401, 'token-missing')
      await problemOf(await send(id, 0, 'abc'), 401, 'token-missing')
      expect((await head(id)).status).toBe(401)
      expect((await begin(10, { Authorization: 'Bearer a secret' })).status).toBe(201)
    } finally {
      delete process.env.TANKWARD_TOKEN
    }
    await problemOf(await begin(10, { 'Sec-Fetch-Site': 'cross-site' }), 403, 'cross-site')
  })

  it('is removed three days after it began, whole or not', async () => {
    const [old, young] = [await begun(10), await begun(10)]
    const path = (name: string) => join(folder, 'tankward-resumable', name)
    const now = new Date()
    const longAgo = (now.getTime() - RESUMABLE_MS) / 1000 - 60
    utimesSync(path(`${old}.json`), longAgo, longAgo)
    await removeOldTempFiles(now)
    expect([old, young].map((id) => [existsSync(path(id)), existsSync(path(`${id}.json`))])).toEqual([
      [false, false],
      [true, true],
    ])
  })
})
