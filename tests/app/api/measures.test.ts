import { createHash, randomUUID } from 'node:crypto'
import { writeFile } from 'node:fs/promises'
import { beforeAll, describe, expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { removeTempFile, tempFile } from '@/app/_jobs/temp-file'
import { writeCsv } from '@/app/_plant/habits'
import { simulate } from '@/app/_plant/simulate'
import type { Change } from '@/app/_plant/spec'
import { measureAnswerSchema, proofAnswerSchema, trialAnswerSchema } from '@/app/_server/measure-shapes'
import { PUT as PUT_PIECES } from '@/app/api/logs/[id]/production/route'
import { GET as GET_LOG } from '@/app/api/logs/[id]/route'
import { DELETE as DELETE_TRIAL } from '@/app/api/logs/[id]/trials/[trial]/route'
import { GET as GET_TRIALS, POST as POST_TRIAL } from '@/app/api/logs/[id]/trials/route'
import { POST as POST_EVENT } from '@/app/api/measures/[id]/events/route'
import { GET as GET_PROOF } from '@/app/api/measures/[id]/proof/route'
import { POST as POST_QUOTE } from '@/app/api/measures/[id]/quotes/route'
import { GET, PUT } from '@/app/api/measures/[id]/route'
import { GET as GET_ALL, POST } from '@/app/api/measures/route'
import { receiveLog } from '@/db/queries/logs'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import type { Result } from '@/lib/contract/result'
import { newMachine } from '../../db/fixtures'
import { machineAndChange, onShift, visitOf } from '../../truth/before-after'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

const db = apiDatabase()
/** A machine with a power meter that is vented at idle. */
const { spec, change, machine } = machineAndChange(3002)
const ids: Record<string, string> = {}
let machineId = ''

async function imported(day: string, seed: number, done?: Change, changedFromS?: number): Promise<string> {
  const driven = onShift(spec, { idle: 1, settledC: 48 })
  const visit = visitOf(seed, 900, changedFromS === undefined ? {} : { changedFromS })
  const csv = writeCsv(
    simulate(driven, visit, done).recording,
    'comma-iso',
    `2026-08-${day}T06:00:00` as never,
  )
  const bytes = Buffer.from(csv)
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const fileName = `${day}.csv`
  const log = { id: randomUUID(), machineId, siteId: DEFAULT_SITE_ID, sha256, fileName }
  const { row } = await receiveLog(db(), { ...log, byteLength: bytes.length })
  const path = tempFile()
  await writeFile(path, bytes)
  const key = { machineId, logId: row.id, siteId: DEFAULT_SITE_ID }
  const file = { path, fileName, diskBytes: bytes.length, isPacked: false, packing: 'gzip' as const }
  expect(await importLog(db(), key, file as never)).toBe(true)
  await removeTempFile(path)
  return row.id
}

beforeAll(async () => {
  machineId = await newMachine(db(), machine)
  ids.before1 = await imported('03', 1)
  ids.before2 = await imported('05', 2)
  ids.after1 = await imported('17', 3, change)
  ids.after2 = await imported('19', 4, change)
  ids.trial = await imported('10', 5, change, 450)
}, 120_000)

const decide = async (body: object) => POST(jsonRequest('/api/measures', 'POST', body), noParams)
const step = (id: string, body: object) =>
  POST_EVENT(jsonRequest(`/api/measures/${id}/events`, 'POST', body), params({ id }))
const made = async (answer: Response) => measureAnswerSchema.parse(await answer.json())
const proofOf = async (id: string) =>
  proofAnswerSchema.parse(
    await (await GET_PROOF(request(`/api/measures/${id}/proof`), params({ id }))).json(),
  )

describe('/api/measures', () => {
  it('turns an option into a measure with its promise frozen, and proves it', {
    timeout: 60_000,
  }, async () => {
    const body = { machineId, optionId: 'vent-relief-at-idle', logId: ids.before1, owner: ' B. Planner ' }
    const answer = await decide(body)
    expect(answer.status).toBe(201)
    const measure = await made(answer)
    expect(answer.headers.get('location')).toBe(measure.url)
    const result: Result = await (
      await GET_LOG(request(`/api/logs/${ids.before1}`), params({ id: ids.before1 }))
    ).json()
    const option = result.options.find(({ id }) => id === 'vent-relief-at-idle')
    expect(measure.expected?.savedShare).toEqual(option?.savedShare)
    expect(measure).toMatchObject({ state: 'proposed', owner: 'B. Planner', next: ['approved', 'rejected'] })
    const { id } = measure
    const early = await proofOf(id)
    expect(early.verdict).toBe('not-enough-data')
    expect(early.warnings.map(({ code }) => code)).toContain('not-installed')
    for (const state of ['approved', 'ordered']) expect((await step(id, { state })).status).toBe(201)
    expect((await step(id, { state: 'installed', on: '2026-08-10' })).status).toBe(201)
    const proof = await proofOf(id)
    expect(proof.baseline.logs.sort()).toEqual([ids.before1, ids.before2].sort())
    expect(proof.comparison.logs.sort()).toEqual([ids.after1, ids.after2].sort())
    expect(proof.verdict).toMatch(/^proven/)
    expect(proof.message).toMatch(/saved [\d,.]+ ± [\d,.]+ kWh a year of [\d,.]+ .*predicted/)
    const verified = await made(await step(id, { state: 'verified', author: 'C. Auditor' }))
    const last = verified.events[verified.events.length - 1]
    expect(last.proof?.savedKWh).toEqual(proof.savedKWh)
    expect(last.author).toBe('C. Auditor')
    expect(verified.events.map(({ state }) => state)).toEqual([
      'proposed',
      'approved',
      'ordered',
      'installed',
      'verified',
    ])
    // A step back is a further step: the first proof stays, and the day it was installed.
    const back = await made(await step(id, { state: 'installed', on: '2026-08-30', reason: 'looked again' }))
    expect(back.events).toHaveLength(6)
    expect(back.events[4].proof).not.toBeNull()
    expect((await proofOf(id)).comparison.logs).toHaveLength(2)
  })

  it('refuses steps out of turn, rejections without a reason and proofs of nothing', async () => {
    const { id } = await made(await decide({ machineId, title: 'Clean the cooler' }))
    await problemOf(await step(id, { state: 'verified' }), 409, 'state-not-next')
    await problemOf(await step(id, { state: 'rejected', reason: ' ' }), 422, 'reason-missing')
    await step(id, { state: 'approved' })
    await step(id, { state: 'installed', on: '2026-08-25' })
    await problemOf(await step(id, { state: 'verified' }), 409, 'nothing-proven')
    await problemOf(await step('none', { state: 'approved' }), 404, 'unknown-measure')
  })

  it('refuses an option without its log, and a log that is not the machine’s', async () => {
    const option = { machineId, optionId: 'vent-relief-at-idle' }
    await problemOf(await decide(option), 422, 'invalid-shape')
    const other = await newMachine(db())
    await problemOf(await decide({ ...option, machineId: other, logId: ids.before1 }), 404, 'unknown-log')
    const already = { ...option, optionId: 'pressure-compensated-pump', logId: 'none' }
    await problemOf(await decide(already), 404, 'unknown-log')
  })

  it('lists by state, machine and owner', async () => {
    const list = async (search: string) => {
      const answer = await GET_ALL(request(`/api/measures${search}`), noParams)
      return ((await answer.json()) as { measures: { title: string }[] }).measures.map(({ title }) => title)
    }
    await decide({ machineId, title: 'Shorter pilot line', owner: 'D. Fitter' })
    expect(await list(`?machine=${machineId}&owner=D.%20Fitter`)).toEqual(['Shorter pilot line'])
    expect(await list('?state=rejected')).toEqual([])
    await problemOf(await GET_ALL(request('/api/measures?state=odd'), noParams), 400, 'bad-query')
  })

  it('keeps quotes, owner and how it is to be proven', async () => {
    const expectedKWhPerYear = { low: 900, likely: 1000, high: 1200 }
    const { id, expected } = await made(await decide({ machineId, title: 'Seal kit', expectedKWhPerYear }))
    expect(expected?.savedKWhPerYear).toMatchObject({ value: 1000, low: 900, high: 1200 })
    const path = `/api/measures/${id}`
    const quote = { text: 'kit and two hours of work', amount: 420.5, on: '2026-08-01' }
    const quoted = await made(await POST_QUOTE(jsonRequest(`${path}/quotes`, 'POST', quote), params({ id })))
    expect(quoted.quotes).toMatchObject([{ ...quote, currency: 'EUR' }])
    const setup = { driver: 'running-hours', adjustments: [], leftOut: [ids.trial] }
    const changed = await made(await PUT(jsonRequest(path, 'PUT', { setup }), params({ id })))
    expect(changed.setup).toMatchObject(setup)
    expect((await made(await GET(request(path), params({ id })))).setup).toMatchObject(setup)
  })
})

describe('trials and pieces of a log', () => {
  it('compares the cycles before and after, and can be taken back', async () => {
    const id = ids.trial
    const path = `/api/logs/${id}/trials`
    const answer = await POST_TRIAL(jsonRequest(path, 'POST', { atS: 451, note: 'vented' }), params({ id }))
    const trial = trialAnswerSchema.parse(await answer.json())
    expect(trial.trial?.verdict).toBe('proven')
    expect(trial.trial?.levelChange?.level).toBe('idle')
    expect(trial.trial?.message).toMatch(/kWh a cycle saved/)
    const gone = () => DELETE_TRIAL(request(trial.url, { method: 'DELETE' }), params({ id, trial: trial.id }))
    expect((await gone()).status).toBe(204)
    await problemOf(await gone(), 404, 'unknown-trial')
    const left = await (await GET_TRIALS(request(path), params({ id }))).json()
    expect(left).toEqual({ trials: [] })
    await problemOf(
      await POST_TRIAL(jsonRequest(path, 'POST', { atS: 1e6 }), params({ id })),
      400,
      'bad-query',
    )
  })

  it('takes a count of pieces, and none below nil', async () => {
    const id = ids.before1
    const put = (body: object) =>
      PUT_PIECES(jsonRequest(`/api/logs/${id}/production`, 'PUT', body), params({ id }))
    expect(await (await put({ pieces: 120 })).json()).toEqual({ pieces: 120, note: null, author: null })
    await problemOf(await put({ pieces: -1 }), 422, 'invalid-shape')
  })
})
