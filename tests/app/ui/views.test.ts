import { expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { monthLogs } from '@/app/_server/month-logs-answer'
import { compareView } from '@/app/_server/views/compare-view'
import { isSuspicious } from '@/app/_server/views/is-suspicious'
import { machineView } from '@/app/_server/views/machine-view'
import { monthPage } from '@/app/_server/views/month-page'
import { latestMonth, monthView } from '@/app/_server/views/month-view'
import { setupView } from '@/app/_server/views/setup-view'
import { uploadView } from '@/app/_server/views/upload-view'
import { sumMonth } from '@/app/_ui/months/month-sum'
import { pick } from '@/app/_ui/months/pick'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { arrivedSample, sampleMachine } from '../sample-files'

const NAME = 'press-all-sensors'

onBothDatabases('what the pages read', (opened) => {
  it('agrees with the stored result, whichever page shows it', async () => {
    const { db } = opened()
    const bare = await newMachine(db, sampleMachine('baler-line-flow'))
    const machineId = await newMachine(db, sampleMachine(NAME))
    const key = await newLog(db, machineId)
    expect(await importLog(db, key, arrivedSample(`${NAME}.csv`))).toBe(true)

    const view = await machineView(db, machineId, undefined)
    const result = view?.result
    if (!result) throw new Error('a stored log has a result')
    expect(view.chosen?.id).toBe(key.logId)
    expect(result.options[0].cautions[0].message.length).toBeGreaterThan(10)

    // The set-up shows beside empty entries what the machine's page shows as found.
    const setup = await setupView(db, machineId, key.logId)
    expect(setup?.seen).toMatchObject({ logId: key.logId, isLatest: true, levels: result.levels })
    expect(result.levels.deadHeadBar).toMatchObject({ foundFrom: 'log', given: null })
    expect((await setupView(db, machineId, 'no-such-log'))?.seen?.logId).toBe(key.logId)
    expect((await setupView(db, bare, undefined))?.seen).toBeNull()
    expect(await setupView(db, 'no-such-machine', undefined)).toBeNull()

    // One dated log: the month's input is the log's input, from joules summed elsewhere.
    const month = await latestMonth(db)
    expect(month).toBe(result.log.startedAt?.slice(0, 'YYYY-MM'.length))
    const review = await monthView(db, month ?? '')
    expect(review.machines.map((machine) => machine.machineId)).toEqual([machineId])
    expect(review.unlogged.map((machine) => machine.id)).toEqual([bare])
    expect(review.machines[0].logs.map((log) => log.logId)).toEqual([key.logId])
    const page = await monthPage(db, month ?? '')
    expect(page.columns.ids).toEqual([machineId])
    expect(page.unlogged.map((machine) => machine.id)).toEqual([bare])
    expect(page.quality).toMatchObject({
      machines: 1,
      logs: 1,
      suspicious: review.machines[0].logs.filter(isSuspicious).length,
      unlike: 1,
      withoutCalendar: 1,
    })
    expect((await monthLogs(db, month ?? '')).machines).toEqual([
      {
        machineId,
        name: review.machines[0].name,
        notes: review.machines[0].review.represents.notes,
        logs: review.machines[0].logs,
      },
    ])
    const input = result.ledgerKWh.electricIn.value
    expect(sumMonth(pick(review.machines, { search: '', choices: {} })).input.kWh / input).toBeCloseTo(1, 2)

    const { rows } = await compareView(db)
    const row = rows.find(({ id }) => id === machineId)
    expect(row?.month).toBe(month)
    expect(row?.bestOption).toBe(result.options[0].id)
    expect(row?.idleShare).toBeCloseTo(result.idle.electricKWh.value / input, 2)
    expect(row?.lastLogId).toBe(key.logId)
    expect(rows.find(({ id }) => id === bare)).toMatchObject({
      month: null,
      wasteShare: null,
      bestOption: null,
      lastLogAt: null,
    })
  })

  it('leads nowhere where nothing is', async () => {
    const { db } = opened()
    expect(await machineView(db, 'nobody', undefined)).toBeNull()
    const empty = await monthView(db, '1999-01')
    expect(empty.machines).toEqual([])
    expect((await uploadView(db, 'nobody')).machines.length).toBeGreaterThanOrEqual(0)
  })

  it('finds the neighbours of a month among those that hold anything', async () => {
    const { db } = opened()
    const month = (await latestMonth(db)) ?? ''
    const after = await monthView(db, '2031-01')
    expect(after.previous).toBe(month)
    expect(after.next).toBeNull()
    expect((await monthView(db, '1999-01')).next).toBe((await listMonths(db, DEFAULT_SITE_ID)).at(-1))
  })
})
