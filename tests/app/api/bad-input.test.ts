import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { createGzip, gzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { MOST_RATIO } from '@/app/_jobs/gunzipped'
import { queueIdle } from '@/app/_jobs/queue'
import { POST as INSPECT } from '@/app/api/inspections/route'
import { DELETE, GET } from '@/app/api/logs/[id]/route'
import { POST } from '@/app/api/logs/route'
import { PATCH } from '@/app/api/uploads/[upload]/route'
import { POST as BEGIN } from '@/app/api/uploads/route'
import { listLogs } from '@/db/queries/logs'
import { newMachine } from '../../db/fixtures'
import { sampleBytes, sampleMachine } from '../sample-files'
import { smallDisk } from './full-disk'
import { apiDatabase, noParams, params, problemOf, request } from './harness'

// What comes in over HTTP and is no log, or only half of one: a clear answer, nothing half stored, all else as it was.

const NAME = 'broach-early-relief'
const CSV = sampleBytes(`${NAME}.csv`)
const text = (content: string) => Buffer.from(content, 'utf8')

let folder: string
let machineId: string
let earlierId: string
let earlier: unknown
const before = process.env.TANKWARD_UPLOADS
const db = apiDatabase()

const post = (body: BodyInit, headers: Record<string, string> = {}, machine = machineId) =>
  POST(sent(`/api/logs?machine=${machine}&name=shift.csv`, body, headers), noParams)
const inspect = (body: BodyInit, headers: Record<string, string> = {}, machine = machineId) =>
  INSPECT(sent(`/api/inspections?machine=${machine}&name=shift.csv`, body, headers), noParams)
const get = async (id: string) => (await GET(request(`/api/logs/${id}`), params({ id }))).json()
const remove = (id: string) => DELETE(request(`/api/logs/${id}`, { method: 'DELETE' }), params({ id }))

function sent(path: string, body: BodyInit, headers: Record<string, string>): Request {
  const isStream = body instanceof ReadableStream
  return request(path, { method: 'POST', headers, body, ...(isStream ? { duplex: 'half' } : {}) })
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-bad-input-'))
  process.env.TANKWARD_UPLOADS = folder
  machineId = await newMachine(db(), sampleMachine(NAME))
  earlierId = (await (await post(new Uint8Array(CSV))).json()).id
  await queueIdle()
  earlier = await get(earlierId)
  expect(earlier).toMatchObject({ state: 'done' })
})
afterAll(() => {
  if (before === undefined) delete process.env.TANKWARD_UPLOADS
  else process.env.TANKWARD_UPLOADS = before
  rmSync(folder, { recursive: true, force: true })
})

/** Only the earlier log is there, as it was, and no file waits for anything. */
async function nothingElse(): Promise<void> {
  expect((await listLogs(db(), machineId)).map(({ id }) => id)).toEqual([earlierId])
  expect(await get(earlierId)).toEqual(earlier)
  expect(readdirSync(join(folder, 'tankward-uploads'))).toEqual([])
}

const header = 'Time,Pump pressure [bar],Pump flow [L/min]'
const PNG = Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex')
const wide = Array.from({ length: 1_000_000 }, (_, i) => `c${i}`).join(',')

describe('a line without end', () => {
  it('is refused with its number, in bounded memory: 1 GB below a header', async () => {
    const piece = Buffer.alloc(1 << 20, '12.5,')
    let left = 1024
    const body = new ReadableStream<Uint8Array>({
      pull(controller) {
        if (left === 1024) controller.enqueue(new Uint8Array(text(`${header}\n`)))
        if (left-- > 0) controller.enqueue(new Uint8Array(piece))
        else controller.close()
      },
    })
    const rss = () => process.memoryUsage().rss / 2 ** 20
    const start = rss()
    let peak = start
    const watch = setInterval(() => {
      peak = Math.max(peak, rss())
    }, 20)
    const { values } = await problemOf(await inspect(body), 422, 'line-too-long')
    clearInterval(watch)
    expect(values).toMatchObject({ line: 2 })
    expect(values.limit).toBeLessThan(10e6)
    console.log(`1 GB line: ${Math.round(peak - start)} MB above ${Math.round(start)} MB`)
    expect(peak - start).toBeLessThan(400)
    await nothingElse()
  })
})

describe('is told what it is and nothing of it is stored', () => {
  it.each<[string, string, Uint8Array]>([
    ['blank', 'file-empty', text(' \r\n \n')],
    ['binary', 'file-binary', Buffer.from(Array.from({ length: 4000 }, (_, i) => (i * 97) % 256))],
    ['an image', 'file-image', PNG],
    [
      'a page',
      'file-html',
      text('<!doctype html><html><body><table><tr><td>1</td></tr></table></body></html>'),
    ],
    ['a PDF', 'file-pdf', text('%PDF-1.7\n%âãÏÓ\n')],
    ['JSON', 'file-json', text('{"rows": [[1, 2], [3, 4]]}')],
    ['a header alone', 'file-header-only', text(`${header}\n`)],
    ['prose', 'file-header-only', text('Dear colleague, the machine was noisy again today.\n')],
    ['300,000 columns', 'too-many-columns', text(`${'1,'.repeat(299_999)}1\n`.repeat(3))],
    // A line of them is longer than a line may be.
    ['a million columns', 'line-too-long', text(`${wide}\n${wide.replaceAll('c', '')}\n`)],
    [
      'a damaged spreadsheet under another name',
      'spreadsheet-damaged',
      text('PK\u0003\u0004[Content_Types].xml xl/workbook.xml'),
    ],
  ])('%s', async (_, code, content) => {
    const body = new Uint8Array(content)
    const refusal = await problemOf(await inspect(body), 422, expect.stringMatching(code))
    expect(refusal.detail.length).toBeGreaterThan(20)
    const answer = await post(body)
    expect(answer.status).toBe(202)
    const { id } = await answer.json()
    await queueIdle()
    const log = await get(id)
    expect(log).toMatchObject({ state: 'failed', error: { code: refusal.code, title: refusal.title } })
    expect((await remove(id)).status).toBe(204)
    await nothingElse()
  })
})

/** Packed for the journey, and a packed file as it is. */
const PACKED_HEADERS: readonly Record<string, string>[] = [{ 'Content-Encoding': 'gzip' }, {}]

describe('a packed file', () => {
  it('that unpacks to far more than a log can is given up early, sent packed or as it is', async () => {
    // A gigabyte of zeros, made as they are packed: a thousand to one.
    const piece = Buffer.alloc(1 << 20, '0')
    const packer = Readable.from(
      (function* () {
        for (let i = 0; i < 1024; i++) yield piece
      })(),
    ).pipe(createGzip())
    const bomb = Buffer.concat(await packer.toArray())
    expect((1024 * piece.length) / bomb.length).toBeGreaterThan(MOST_RATIO)
    const began = process.cpuUsage()
    for (const headers of PACKED_HEADERS) {
      const { values, detail } = await problemOf(
        await post(new Uint8Array(bomb), headers),
        422,
        'gzip-too-large',
      )
      expect(values.unpackedBytes).toBeLessThan(100e6)
      expect(detail).toContain(String(MOST_RATIO))
      await problemOf(await inspect(new Uint8Array(bomb), headers), 422, 'gzip-too-large')
    }
    // Unpacking all of it four times would take longer.
    expect(process.cpuUsage(began).user / 1e6).toBeLessThan(8)
    await nothingElse()
  })

  it('that holds a log is read, however well its rows pack', async () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => {
      const at = new Date(Date.UTC(2026, 2, 1) + i * 1000).toISOString().slice(0, 19)
      return `${at}${',0.000'.repeat(60)}`
    })
    const names = Array.from({ length: 60 }, (_, i) => `Spare ${i}`).with(0, 'Pump pressure [bar]')
    const log = text(`Time,${names.join(',')}\n${rows.join('\n')}\n`)
    const packed = gzipSync(log, { level: 9 })
    expect(log.length / packed.length).toBeGreaterThan(50)
    const answer = await inspect(new Uint8Array(packed), { 'Content-Encoding': 'gzip' }, '')
    expect(await answer.json()).toMatchObject({ report: { rowsUsed: rows.length } })
  })

  it('that is cut or bent is refused', async () => {
    const packed = gzipSync(CSV)
    const bent = Buffer.from(packed)
    bent[packed.length >> 1] ^= 0xff
    for (const damaged of [packed.subarray(0, packed.length - 9), packed.subarray(0, 3), bent])
      for (const headers of PACKED_HEADERS)
        await problemOf(await post(new Uint8Array(damaged), headers), 422, 'gzip-damaged')
    await nothingElse()
  })
})

describe('a connection that is lost', () => {
  it('leaves nothing of the file', async () => {
    const rows = new Uint8Array(CSV.subarray(0, 50_000))
    let isSent = false
    const body = new ReadableStream<Uint8Array>({
      pull(controller) {
        if (isSent) return controller.error(new Error('aborted'))
        isSent = true
        controller.enqueue(rows)
      },
    })
    const { values } = await problemOf(await post(body), 400, 'body-cut')
    expect(values.received).toBe(50_000)
    await nothingElse()
  })
})

describe('the same file', () => {
  it('from two technicians at the same time is one log', async () => {
    const machine = await newMachine(db(), sampleMachine(NAME))
    const answers = await Promise.all([1, 2, 3].map(() => post(new Uint8Array(CSV), {}, machine)))
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 200, 202])
    const ids = await Promise.all(answers.map(async (answer) => (await answer.json()).id))
    expect(new Set(ids).size).toBe(1)
    await queueIdle()
    expect((await listLogs(db(), machine)).map(({ state }) => state)).toEqual(['done'])
    await nothingElse()
  })

  it('cancelled while it is imported and sent again is imported', async () => {
    const machine = await newMachine(db(), sampleMachine(NAME))
    const first = (await (await post(new Uint8Array(CSV), {}, machine)).json()).id
    expect((await remove(first)).status).toBe(204)
    const again = await post(new Uint8Array(CSV), {}, machine)
    expect(again.status).toBe(202)
    await queueIdle()
    const logs = await listLogs(db(), machine)
    expect(logs.map(({ id, state }) => [id, state])).toEqual([[(await again.json()).id, 'done']])
    expect(logs[0].id).not.toBe(first)
    await nothingElse()
  })
})

const disk = smallDisk(3)
describe.skipIf(!disk)(`a full disk${disk ? '' : ' (skipped: this user may not mount one)'}`, () => {
  beforeAll(() => {
    process.env.TANKWARD_UPLOADS = disk?.folder
  })
  afterAll(() => {
    process.env.TANKWARD_UPLOADS = folder
    disk?.remove()
  })
  const large = () => Readable.toWeb(Readable.from([CSV, Buffer.alloc(6 << 20, '0,1\n')])) as ReadableStream

  it('is named, announced or not, and nothing is left on it', async () => {
    await problemOf(await post(large()), 507, 'disk-full')
    await problemOf(
      await post(new Uint8Array(4 << 20), { 'Content-Length': String(4 << 20) }),
      507,
      'disk-full',
    )
    expect(readdirSync(join(disk?.folder ?? '', 'tankward-uploads'))).toEqual([])
    expect((await post(new Uint8Array(CSV))).status).toBe(200)
  })

  it('stops an upload in pieces, which keeps what fitted', async () => {
    const tus = { 'Tus-Resumable': '1.0.0' }
    const begin = request('/api/uploads', {
      method: 'POST',
      headers: { ...tus, 'Upload-Length': String(2 << 20) },
    })
    const id = (await BEGIN(begin, noParams)).headers.get('location')?.split('/').pop() ?? ''
    // Something else fills the disk meanwhile.
    const { writeFileSync } = await import('node:fs')
    writeFileSync(join(disk?.folder ?? '', 'other'), Buffer.alloc((3 << 20) - (1 << 19)))
    const headers = { ...tus, 'Upload-Offset': '0', 'Content-Type': 'application/offset+octet-stream' }
    const body = new Uint8Array(2 << 20)
    const patch = request(`/api/uploads/${id}`, { method: 'PATCH', headers, body })
    await problemOf(await PATCH(patch, params({ upload: id })), 507, 'disk-full')
  })
})
