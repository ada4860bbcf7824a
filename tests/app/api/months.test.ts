import { describe, expect, it } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import {
  baselinesSchema,
  changeAnswerSchema,
  changeSumSchema,
  monthEventsSchema,
  monthLogsSchema,
  siteHistorySchema,
} from '@/app/_server/month-shapes'
import { monthAnswerSchema } from '@/app/_server/shapes'
import { compareView } from '@/app/_server/views/compare-view'
import { monthPage } from '@/app/_server/views/month-page'
import { monthView } from '@/app/_server/views/month-view'
import { shownMachines } from '@/app/_server/views/shown-machines'
import { DELETE as DELETE_LOG } from '@/app/api/logs/[id]/route'
import { POST as POST_LOG } from '@/app/api/logs/route'
import { POST as POST_MACHINE } from '@/app/api/machines/route'
import { GET as GET_CHANGE } from '@/app/api/months/[month]/change/route'
import { GET as GET_CHANGE_SUM } from '@/app/api/months/[month]/change/sum/route'
import { GET as GET_EVENTS, POST as POST_EVENT } from '@/app/api/months/[month]/events/route'
import { GET as GET_LOGS } from '@/app/api/months/[month]/logs/route'
import { GET as GET_MONTH } from '@/app/api/months/[month]/route'
import { GET as GET_BASELINES, POST as POST_BASELINE } from '@/app/api/site/baselines/route'
import { GET as GET_HISTORY } from '@/app/api/site/history/route'
import { PUT as PUT_SITE } from '@/app/api/site/route'
import { GET as GET_TARIFFS, PUT as PUT_TARIFFS } from '@/app/api/site/tariffs/route'
import { CAUSES } from '@/lib/months/causes'
import { sampleBytes, sampleMachine } from '../sample-files'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

const NAME = 'baler-line-flow'
const MONTH = '2026-09'
const db = apiDatabase()

const text = Buffer.from(sampleBytes(`${NAME}.csv`)).toString('latin1')
const newMachine = async (): Promise<string> => {
  const body = sampleMachine(NAME)
  return (await (await POST_MACHINE(jsonRequest('/api/machines', 'POST', body), noParams)).json()).id
}
/** Uploads the sample, changed or not, and gives the log's id once it is stored. */
async function upload(machine: string, change: (csv: string) => string = (csv) => csv): Promise<string> {
  const body = new Uint8Array(Buffer.from(change(text), 'latin1'))
  const answer = await POST_LOG(request(`/api/logs?machine=${machine}`, { method: 'POST', body }), noParams)
  await queueIdle()
  return (await answer.json()).id
}
const month = async (of = MONTH) =>
  monthAnswerSchema.parse(await (await GET_MONTH(request(`/api/months/${of}`), params({ month: of }))).json())
const own = async (machine: string, of = MONTH) =>
  (await month(of)).machines.find(({ machineId }) => machineId === machine) ?? expect.fail('no such machine')
const event = (body: unknown, of = MONTH) =>
  POST_EVENT(jsonRequest(`/api/months/${of}/events`, 'POST', body), params({ month: of }))
const site = async (body: unknown, query = '') => {
  const answer = await PUT_SITE(jsonRequest(`/api/site${query}`, 'PUT', body), noParams)
  await queueIdle()
  return answer
}

describe('settings with dates and their history', () => {
  it('a price from a later day leaves a month’s cost; another price for all days corrects it, and says so', async () => {
    await site({ energyPricePerKWh: 0.2 })
    const machine = await newMachine()
    await upload(machine)
    const cost = async () => (await own(machine)).summary?.measured.electric.cost ?? expect.fail('no cost')
    const before = await cost()
    const dearer = { from: '2026-10-01', energyPricePerKWh: 0.4 }
    await site({ energyPricePerKWh: 0.2, tariffs: [dearer] }, '?author=Ada&reason=new+contract')
    expect(await cost()).toBe(before)
    await site({ energyPricePerKWh: 0.3, tariffs: [dearer] }, '?author=Ada&reason=bill+misread')
    expect(await cost()).toBeCloseTo(before * 1.5, 9)
    const { versions } = siteHistorySchema.parse(
      await (await GET_HISTORY(request('/api/site/history'), noParams)).json(),
    )
    expect(
      versions.slice(0, 2).map(({ author, reason, correctsPast }) => [author, reason, correctsPast]),
    ).toEqual([
      ['Ada', 'bill misread', true],
      ['Ada', 'new contract', false],
    ])
    expect(versions[1].settings.tariffs).toEqual([expect.objectContaining(dearer)])
  })

  it('go out as a file and come back the same, and a bad file is refused with place, expected and actual', async () => {
    const calendars = [{ name: 'early', days: [{ weekdays: [1], shifts: [{ fromHour: 6, toHour: 14 }] }] }]
    await site({ name: 'Works', energyPricePerKWh: 0.2, holidays: [{ date: '12-25' }], calendars })
    const file = await (await GET_TARIFFS(request('/api/site/tariffs'), noParams)).json()
    expect(file.calendars[0].name).toBe('early')
    const put = (body: unknown) => PUT_TARIFFS(jsonRequest('/api/site/tariffs', 'PUT', body), noParams)
    expect(await (await put(file)).json()).toEqual(file)
    const wrong = { ...file, tariffs: [{ from: '2026-02-30', energyPricePerKWh: 'cheap' }] }
    const { issues } = await problemOf(await put(wrong), 422, 'invalid-shape')
    expect(issues.map((issue: { path: string[] }) => issue.path.join('.'))).toEqual([
      'tariffs.0.from',
      'tariffs.0.energyPricePerKWh',
    ])
    await queueIdle()
  })
})

describe('a month by machine', () => {
  it('says how sure it is, and its parts of a change add up', async () => {
    const machine = await newMachine()
    await upload(machine)
    await upload(machine, (csv) => csv.replaceAll('.09.2026', '.08.2026'))
    const { review } = await own(machine)
    const reach = review?.reach.electric?.measured ?? expect.fail('no interval')
    expect(reach.above).toBeGreaterThan(0)
    expect(review?.reach.electric?.whole?.above).toBeGreaterThan(reach.above)
    // The same samples a month earlier: nothing changed but planned days.
    const change = review?.changes.previous?.idle ?? expect.fail('both months were logged')
    const sum = CAUSES.reduce((total, cause) => total + change.cost.effects[cause], 0)
    expect(sum).toBeCloseTo(change.cost.change, 9)
    expect(change.cost.effects.rate).toBeCloseTo(0, 6)
    expect(review?.changes.lastYear).toBeNull()

    // What it was split from: both sides are the products of their factors.
    const asked = (query: string) =>
      GET_CHANGE(request(`/api/months/${MONTH}/change?${query}`), params({ month: MONTH }))
    const answer = await asked(`machine=${machine}&figure=idle&against=previous`)
    const { inputs, months } = changeAnswerSchema.parse(await answer.json())
    if (!inputs) expect.fail('both months were logged')
    expect(months).toEqual(['2026-08'])
    expect(inputs.change).toEqual(change)
    for (const side of ['before', 'after'] as const) {
      const { runningHours, kWh, reach: own } = inputs[side]
      const perHour = inputs.kinds.reduce((all, one) => all + one[side].share * one[side].kWhPerHour, 0)
      expect(runningHours * perHour).toBeCloseTo(kWh, 9)
      expect(own?.above).toBeGreaterThan(0)
    }
    expect(inputs.after.kWh - inputs.before.kWh).toBeCloseTo(change.kWh.change, 9)
    const [old, fresh] = [inputs.before.reach, inputs.after.reach]
    expect(inputs.reach?.kWh.above).toBeCloseTo(Math.hypot(fresh?.above ?? 0, old?.below ?? 0), 9)
    expect(inputs.reach?.cost.above).toBeGreaterThan(0)
    const nothing = await asked(`machine=${machine}&figure=idle&against=lastYear`)
    expect((await nothing.json()).inputs).toBeNull()
    await problemOf(await asked(`machine=${machine}&figure=all&against=previous`), 400, 'bad-query')
    await problemOf(await asked('machine=nobody&figure=idle&against=previous'), 404, 'unknown-machine')
  })

  it('says of the sum of changes over machines how sure it is, with the part of each', async () => {
    const MARCH = '2026-03'
    const machines = [await newMachine(), await newMachine()]
    for (const machine of machines) {
      await upload(machine, (csv) => csv.replaceAll('.09.2026', '.03.2026'))
      await upload(machine, (csv) => csv.replaceAll('.09.2026', '.02.2026'))
    }
    const ask = (query: string) =>
      GET_CHANGE_SUM(request(`/api/months/${MARCH}/change/sum?${query}`), params({ month: MARCH }))
    const sumOf = async (query: string) => changeSumSchema.parse(await (await ask(query)).json())
    const all = await sumOf('against=previous')
    expect(all.parts.map(({ machineId }) => machineId).sort()).toEqual([...machines].sort())
    expect(all).toMatchObject({ machines: 2, unsure: 0 })
    expect(all.parts.reduce((sum, { cost }) => sum + cost, 0)).toBeCloseTo(all.cost, 9)
    // Two machines with the same logs: what is their own is √2 of one's, what they share twice one's.
    const [{ doubt }] = all.parts
    const { before, after } = doubt ?? expect.fail('no interval')
    const side = ({ above, shared }: { above: number; shared: number }) =>
      Math.hypot(2 * shared, Math.sqrt(2 * (above ** 2 - shared ** 2)))
    const below = { above: before.kWh.below, shared: before.kWh.shared }
    expect(before.kWh.shared).toBeGreaterThan(0)
    expect(all.reach?.kWh.above).toBeCloseTo(Math.hypot(side(after.kWh), side(below)), 9)

    // One kind of one machine is what its own change says.
    const idle = await sumOf('against=previous&kinds=idle')
    const query = `machine=${machines[0]}&figure=idle&against=previous`
    const alone = await GET_CHANGE(request(`/api/months/${MARCH}/change?${query}`), params({ month: MARCH }))
    const { inputs } = changeAnswerSchema.parse(await alone.json())
    const part = idle.parts.find(({ machineId }) => machineId === machines[0])
    expect(part?.doubt?.after.kWh.above).toBeCloseTo(inputs?.after.reach?.above ?? Number.NaN, 6)
    expect(part?.cost).toBeCloseTo(inputs?.change.cost.change ?? Number.NaN, 9)

    expect(await sumOf('against=lastYear')).toMatchObject({ machines: 0, reach: null, parts: [] })
    await problemOf(await ask('against=previous&kinds=idle,work'), 400, 'bad-query')
    await problemOf(await ask('against=yesterday'), 400, 'bad-query')
  })

  it('counts once what was recorded twice: the later import, and the earlier one when that goes', async () => {
    const machine = await newMachine()
    await upload(machine)
    const before = (await own(machine)).summary?.measured ?? expect.fail('no data')
    const again = await upload(machine, (csv) => `${csv}\n`)
    const both = await own(machine)
    expect(both.summary?.measured.electric.kWh).toBeCloseTo(before.electric.kWh, 6)
    expect(both.review?.represents.notes.map(({ code }) => code)).toContain('recorded-twice')
    expect(new Set(both.rows.map(({ logId }) => logId))).toEqual(new Set([again]))
    await DELETE_LOG(request(`/api/logs/${again}`, { method: 'DELETE' }), params({ id: again }))
    await queueIdle()
    const { summary, review } = await own(machine)
    expect(summary?.measured.electric.kWh).toBeCloseTo(before.electric.kWh, 9)
    // The comparison says the same as the month, from sums of its own.
    const compared = (await compareView(db())).rows.find(({ id }) => id === machine)
    expect(compared?.month).toBe(MONTH)
    expect(compared?.sums?.inputKWh).toBeCloseTo(before.electric.kWh, 9)
    expect(compared?.sums?.runningHours).toBeCloseTo(before.runningHours, 9)
    expect(compared?.trend.at(-1)).toBeCloseTo(compared?.wasteShare ?? Number.NaN, 12)
    expect(review?.represents.notes.map(({ code }) => code)).not.toContain('recorded-twice')
  })

  it('is held against the months that a person marked', async () => {
    const machine = await newMachine()
    await upload(machine)
    await upload(machine, (csv) => csv.replaceAll('.09.2026', '.05.2026'))
    const mark = (months: unknown) =>
      POST_BASELINE(
        jsonRequest('/api/site/baselines', 'POST', { machineId: machine, months, author: 'Ada' }),
        noParams,
      )
    expect((await own(machine)).review?.changes.baseline).toBeNull()
    expect((await mark({ from: '2026-05', until: '2026-06' })).status).toBe(201)
    expect((await own(machine)).review?.changes.baseline?.idle?.kWh.effects.rate).toBeCloseTo(0, 6)
    const { baselines } = baselinesSchema.parse(
      await (await GET_BASELINES(request('/api/site/baselines'), noParams)).json(),
    )
    expect(baselines).toContainEqual(
      expect.objectContaining({ machineId: machine, from: '2026-05', author: 'Ada' }),
    )
    await mark(null)
    expect((await own(machine)).review?.changes.baseline).toBeNull()
  })
})

describe('closing a month', () => {
  it('keeps its figures: later logs are a difference, until it is opened again for a reason', async () => {
    const of = '2026-07'
    const machine = await newMachine()
    await upload(machine, (csv) => csv.replaceAll('.09.2026', '.07.2026'))
    const before = (await own(machine, of)).summary
    const closed = await event({ action: 'closed', author: 'Ada', note: 'checked' }, of)
    expect(closed.status).toBe(201)
    expect(monthEventsSchema.parse(await closed.json())).toMatchObject({
      closed: true,
      events: [{ note: 'checked' }],
    })
    await problemOf(await event({ action: 'closed', author: 'Ada' }, of), 409, 'month-closed-already')

    const late = (csv: string) => csv.replaceAll('15.09.2026', '16.07.2026')
    await upload(machine, late)
    const after = await own(machine, of)
    expect(after.summary).toEqual(before)
    const view = await monthView(db(), of)
    const now = view.closed?.differences.find(({ machineId }) => machineId === machine)
    expect(now?.frozen?.kWh).toBeCloseTo(before?.measured.electric.kWh ?? 0, 9)
    expect(now?.now?.kWh).toBeCloseTo(2 * (before?.measured.electric.kWh ?? 0), 6)
    // The page and the logs behind it are those of the closing, too.
    const page = await monthPage(db(), of)
    expect(page.closed).toEqual(view.closed)
    expect(page.quality.logs).toBe(1)
    const shown = shownMachines(page.columns).find(({ machineId }) => machineId === machine)
    expect(shown?.review.month.measured.electric.kWh).toBeCloseTo(before?.measured.electric.kWh ?? 0, 5)
    const logs = async () =>
      monthLogsSchema
        .parse(await (await GET_LOGS(request(`/api/months/${of}/logs`), params({ month: of }))).json())
        .machines.find(({ machineId }) => machineId === machine)?.logs
    expect(await logs()).toHaveLength(1)

    await problemOf(await event({ action: 'reopened', author: 'Ada' }, of), 422, 'invalid-shape')
    await event({ action: 'reopened', author: 'Ben', note: 'a log came late' }, of)
    const opened = await own(machine, of)
    expect(opened.summary?.measured.electric.kWh).toBeCloseTo(now?.now?.kWh ?? 0, 9)
    expect(await logs()).toHaveLength(2)
    const said = await (await GET_EVENTS(request(`/api/months/${of}/events`), params({ month: of }))).json()
    expect(monthEventsSchema.parse(said).events.map(({ action, author }) => [action, author])).toEqual([
      ['closed', 'Ada'],
      ['reopened', 'Ben'],
    ])
  })

  it('refuses what cannot be', async () => {
    await problemOf(
      await event({ action: 'reopened', author: 'A', note: 'b' }, '2026-02'),
      409,
      'month-not-closed',
    )
    await problemOf(await event({ action: 'closed', author: 'A' }, '2019-02'), 409, 'month-without-data')
    await problemOf(await event({ action: 'closed', author: ' ' }, '2019-02'), 422, 'invalid-shape')
    await problemOf(await event({ action: 'closed', author: 'A' }, '2026-13'), 400, 'bad-query')
  })
})
