import { readdirSync, readFileSync } from 'node:fs'
import { getPriority } from 'node:os'
import { afterAll, expect, it } from 'vitest'
import { commandWorker } from '@/app/_command/command-worker'
import { STREAM_CHANNELS, TIME_CHANNEL } from '@/app/_jobs/channel-names'
import { gatheredRows } from '@/app/_jobs/row-buffer'
import { runTask } from '@/app/_jobs/run-task'
import type { Imported, Rows, Task } from '@/app/_jobs/task'
import { startThread } from '@/app/_jobs/task-thread'
import { siteSchema } from '@/lib/contract/site'
import { arrivedSample, arrivedText, sampleMachine } from '../sample-files'

const NAME = 'shear-pump-flow'
const importOf = (file: string): Task & { kind: 'import' } => ({
  kind: 'import',
  file: arrivedSample(file),
  machine: sampleMachine(NAME),
  site: siteSchema.parse({}),
  corrections: [],
})

const thread = startThread(true, commandWorker)
afterAll(() => thread.stop())

/** Rows by their key. */
const keyed = ({ samples, envelope }: Rows) =>
  new Map([
    ...samples.map((row): [string, unknown] => [`${row.channel} ${row.seq}`, row]),
    ...envelope.map((row): [string, unknown] => [`${row.channel} ${row.level} ${row.seq}`, row]),
  ])

const channelsOf = ({ envelope }: Rows) => new Set(envelope.map(({ channel }) => channel))

const TIMEOUT_MS = 120_000

it(
  'makes of a file in two threads what one thread makes, its samples before the account, the account over time before the end',
  async () => {
    const here = gatheredRows()
    const wanted = await runTask(importOf(`${NAME}.csv`), () => {}, here.onRows)
    const there = gatheredRows()
    const accounted: Imported[] = []
    let before = new Set<string>()
    const got = await thread.run(
      importOf(`${NAME}.csv`),
      () => {},
      there.onRows,
      async (imported) => {
        before = channelsOf(there.rows)
        accounted.push(imported)
      },
    )
    expect(got).toEqual(wanted)
    expect(keyed(there.rows)).toEqual(keyed(here.rows))
    const logged = wanted.channels.map(({ name }) => name)
    expect(before).toEqual(new Set([TIME_CHANNEL, ...logged]))
    expect(channelsOf(there.rows)).toEqual(new Set([TIME_CHANNEL, ...logged, ...STREAM_CHANNELS]))
    const [{ computed, ...facts }] = accounted
    expect({ ...facts, computed: wanted.computed }).toEqual(wanted)
    expect(computed.analysis).toEqual({
      ...wanted.computed.analysis,
      options: [],
      combinations: [],
      bestUnderBudget: null,
      marginalCostCurve: [],
    })
  },
  TIMEOUT_MS,
)

it(
  'says why a file cannot be understood or its rows stored, and does the next one',
  async () => {
    const gone = thread.run({ ...importOf(`${NAME}.csv`), file: arrivedText('empty.csv', '') })
    await expect(gone).rejects.toThrow('file-empty')
    const full = thread.run(
      importOf(`${NAME}.csv`),
      () => {},
      async () => {
        throw new Error('disk full')
      },
    )
    await expect(full).rejects.toThrow('disk full')
    const { rows, onRows } = gatheredRows()
    await thread.run(importOf(`${NAME}.csv`), () => {}, onRows)
    expect(rows.samples.length).toBeGreaterThan(0)
  },
  TIMEOUT_MS,
)

/** Niceness of every thread of this process: field 19 of its line (proc(5)), counted behind the name in brackets. */
function nicenesses(): number[] {
  return readdirSync('/proc/self/task').map((id) =>
    Number(readFileSync(`/proc/self/task/${id}/stat`, 'utf8').split(') ')[1].split(' ')[16]),
  )
}

it.runIf(process.platform === 'linux')(
  'yields to the thread that serves pages',
  async () => {
    const own = getPriority()
    await thread.run(importOf(`${NAME}.csv`), () => {}, gatheredRows().onRows)
    expect(nicenesses().filter((nice) => nice > own)).toHaveLength(2)
    expect(getPriority()).toBe(own)
  },
  TIMEOUT_MS,
)
