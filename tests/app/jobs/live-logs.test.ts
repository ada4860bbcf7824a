import { afterEach, describe, expect, it } from 'vitest'
import { dropLiveLogs, type LoadLive, MOST_LIVE_LOGS, replayLive } from '@/app/_jobs/live-logs'
import { packTrace, storedChannels } from '@/app/_jobs/pack-log'
import { gatheredRows } from '@/app/_jobs/row-buffer'
import { siteSchema } from '@/lib/contract/site'
import { TankwardError } from '@/lib/errors'
import { readLog } from '@/lib/import/read-log'
import { sampleBytes, sampleMachine } from '../sample-files'

const NAME = 'broach-early-relief'
const machine = sampleMachine(NAME)
const site = siteSchema.parse({})

async function* file() {
  yield new Uint8Array(sampleBytes(`${NAME}.csv`))
}
const { trace, report } = await readLog(file(), { fileName: NAME, machine, timeZone: site.timeZone })
const { rows, onRows } = gatheredRows()
const channels = storedChannels(trace.channels)
await packTrace(trace, onRows)
const stored = {
  startedAtMs: trace.startedAtMs,
  sampleCount: trace.timeS.length,
  channels,
  report,
  chunks: rows.samples,
}

let loads: string[] = []
const loaderOf =
  (what: string): LoadLive =>
  async () => {
    loads.push(what)
    return { stored, machine, site, corrections: [] }
  }
const ask = (logId: string, inputs = 'today', load = loaderOf(`${logId} ${inputs}`)) =>
  replayLive({ logId, inputs }, load, 'vent-relief-at-idle', { ventBar: 20 })
/** Asks until it is answered. */
async function answered(logId: string, inputs = 'today') {
  for (;;) {
    const live = await ask(logId, inputs)
    if (live) return live
    await new Promise((resolve) => setTimeout(resolve, 5))
  }
}

describe('logs kept ready for moved settings', () => {
  afterEach(() => {
    dropLiveLogs()
    loads = []
  })

  it('takes a log up once, and answers from it from then on', async () => {
    expect(await ask('a')).toBeNull()
    const { row } = await answered('a')
    expect(row.settings.ventBar).toBe(20)
    await answered('a')
    expect(loads).toEqual(['a today'])
  })

  it('takes it up anew as soon as anything that it is computed with is another', async () => {
    await answered('a')
    expect(await ask('a', 'tomorrow')).toBeNull()
    await answered('a', 'tomorrow')
    // The one computed with what was then is gone.
    expect(await ask('a', 'today')).toBeNull()
    expect(loads).toEqual(['a today', 'a tomorrow', 'a today'])
  })

  it('keeps a stated number of logs, those asked for last', async () => {
    const ids = Array.from({ length: MOST_LIVE_LOGS }, (_, k) => `log ${k}`)
    for (const id of ids) await answered(id)
    await answered(ids[0])
    await answered('one more')
    loads = []
    expect(await ask(ids[0])).not.toBeNull()
    expect(await ask(ids[1])).toBeNull()
    expect(loads).toEqual([`${ids[1]} today`])
  })

  it('says why a log cannot be taken up, and tries again', async () => {
    const fails: LoadLive = async () => {
      throw new TankwardError('samples-missing', { log: 'a' })
    }
    expect(await ask('a', 'today', fails)).toBeNull()
    await new Promise((resolve) => setTimeout(resolve, 5))
    await expect(ask('a', 'today', fails)).rejects.toThrow('samples-missing')
    await answered('a')
  })
})
