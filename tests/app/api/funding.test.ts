import { beforeAll, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { readFundingQuery } from '@/app/_server/views/funding-query'
import { fundingView } from '@/app/_server/views/funding-view'
import { POST as POST_LOG } from '@/app/api/logs/route'
import { POST as POST_MACHINE } from '@/app/api/machines/route'
import { POST as POST_EVENT } from '@/app/api/measures/[id]/events/route'
import { POST as POST_MEASURE } from '@/app/api/measures/route'
import { listLatestChoices } from '@/db/queries/log-digests'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import type { FundingChoice } from '@/lib/portfolio/choice'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, request } from './harness'

const SAMPLES = [
  ['baler-line-flow', 'Line A'],
  ['press-all-sensors', 'Line B'],
] as const
const db = apiDatabase()
let machines: string[] = []
let logs: string[] = []

beforeAll(async () => {
  for (const [sample, line] of SAMPLES) {
    const made = await POST_MACHINE(
      jsonRequest(`/api/machines?line=${line}`, 'POST', sampleMachine(sample)),
      noParams,
    )
    const { id } = await made.json()
    const body = new Uint8Array(sampleBytes(`${sample}.csv`))
    const log = await POST_LOG(request(`/api/logs?machine=${id}`, { method: 'POST', body }), noParams)
    machines = [...machines, id]
    logs = [...logs, (await log.json()).id]
  }
  await queueIdle()
})

const view = (asked: Record<string, string | string[]>) =>
  fundingView(db(), readFundingQuery(asked, undefined).query)
const choicesOf = async (id: string) =>
  (await listLatestChoices(db(), DEFAULT_SITE_ID)).find(({ machineId }) => machineId === id)?.choices ?? []

it('is the best of every pair of sets that the budget buys, found by trying all', async () => {
  const [first, second] = [await choicesOf(machines[0]), await choicesOf(machines[1])]
  expect(first.length).toBeGreaterThan(1)
  const worth = (of: FundingChoice | null) => of?.savedKWhPerYear.value ?? 0
  const cost = (of: FundingChoice | null) => of?.investment.value ?? 0
  const everything = Math.max(...first.map(cost)) + Math.max(...second.map(cost))
  for (const share of [0.1, 0.3, 0.6, 1]) {
    const budget = Math.round(share * everything)
    let best = 0
    for (const a of [null, ...first])
      for (const b of [null, ...second])
        if (cost(a) + cost(b) <= budget) best = Math.max(best, worth(a) + worth(b))
    const { funding, totals, curve } = await view({ budget: String(budget), aim: 'energy' })
    expect(funding.cost).toBeLessThanOrEqual(budget)
    expect(funding.funded.reduce((sum, { choice }) => sum + worth(choice), 0)).toBeCloseTo(best, 6)
    expect(totals.savedKWhPerYear?.value ?? 0).toBeCloseTo(best, 6)
    expect(curve.at(-1)?.spent ?? 0).toBeCloseTo(funding.cost, 6)
  }
})

it('leaves out by line and by hand, and names who is known all the same', async () => {
  const ofLine = await view({ line: 'Line A' })
  expect(ofLine.funding.funded.map(({ machineId }) => machineId)).toEqual([machines[0]])
  expect(ofLine.lines).toEqual(['Line A', 'Line B'])
  const without = await view({ without: machines[0] })
  expect(without.funding.funded.map(({ machineId }) => machineId)).toEqual([machines[1]])
  expect(without.without).toEqual([machines[0]])
  const quoted = await view({ quoted: '1' })
  expect(quoted.funding.funded.every(({ choice }) => !choice.isPlaceholder)).toBe(true)
})

it('funds nothing twice: what is decided is out, and paid from the budget where that is asked', async () => {
  const option = (await choicesOf(machines[1])).find(({ options }) => options.length === 1)
  const proposed = await POST_MEASURE(
    jsonRequest('/api/measures', 'POST', {
      machineId: machines[1],
      optionId: option?.options[0],
      logId: logs[1],
    }),
    noParams,
  )
  const { id } = await proposed.json()
  // What is only proposed is still looked at.
  expect((await view({})).decided).toEqual([])
  const step = jsonRequest(`/api/measures/${id}/events`, 'POST', { state: 'approved' })
  expect((await POST_EVENT(step, params({ id }))).status).toBeLessThan(300)
  const after = await view({ budget: '50000' })
  expect(after.decided.map(({ measureId }) => measureId)).toEqual([id])
  expect(after.funding.funded.map(({ machineId }) => machineId)).toEqual([machines[0]])
  expect(after.free).toBe(50_000)
  const cost = after.decided[0].cost ?? expect.fail('its option has an investment')
  expect((await view({ budget: '50000', spent: '1' })).free).toBe(50_000 - cost)
})
