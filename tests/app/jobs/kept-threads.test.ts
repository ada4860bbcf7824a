import { statSync } from 'node:fs'
import { expect, it } from 'vitest'
import { commandWorker } from '@/app/_command/command-worker'
import type { RunTask } from '@/app/_jobs/in-worker'
import { keptThreads } from '@/app/_jobs/kept-threads'
import { gatheredRows } from '@/app/_jobs/row-buffer'
import type { Task } from '@/app/_jobs/task'
import { startThread, type TaskThread } from '@/app/_jobs/task-thread'
import { siteSchema } from '@/lib/contract/site'
import { arrivedSample, sampleMachine, samplePath } from '../sample-files'

const NAME = 'shear-pump-flow'
const path = samplePath(`${NAME}.csv`)
const fileOf = (diskBytes: number) => ({ path, fileName: 'log.csv', diskBytes, isPacked: false })
const survey = (diskBytes = 1000): Task => ({ kind: 'survey', file: fileOf(diskBytes) })

/** Threads that only count; a job lasts until it is told to end. */
function counted(keptMs?: number) {
  const ends: { ok(): void; fail(): void }[] = []
  const made: { jobs: number; isStopped: boolean; isAlive: boolean }[] = []
  const start = (): TaskThread => {
    const one = { jobs: 0, isStopped: false, isAlive: true }
    made.push(one)
    const run = () => {
      one.jobs++
      return new Promise<never>((resolve, reject) => {
        ends.push({ ok: () => resolve(null as never), fail: () => reject(new Error('injected')) })
      })
    }
    return {
      run: run as unknown as RunTask,
      isAlive: () => one.isAlive,
      rest: () => {},
      stop: async () => {
        one.isStopped = true
      },
    }
  }
  return { threads: keptThreads(start, keptMs), made, next: () => ends.shift() ?? expect.fail('no job') }
}

it('does one job after the other in the same thread', async () => {
  const { threads, made, next } = counted()
  for (let job = 1; job <= 3; job++) {
    const done = threads.run(survey())
    next().ok()
    await done
    expect(made).toEqual([{ jobs: job, isStopped: false, isAlive: true }])
  }
  await threads.stop()
  expect(made[0].isStopped).toBe(true)
})

it('gives jobs that run at once a thread each, and keeps one of them', async () => {
  const { threads, made, next } = counted()
  const both = [threads.run(survey()), threads.run(survey())]
  expect(made.map(({ jobs }) => jobs)).toEqual([1, 1])
  next().ok()
  next().ok()
  await Promise.all(both)
  expect(made.filter(({ isStopped }) => isStopped)).toHaveLength(1)
  const third = threads.run(survey())
  expect(made).toHaveLength(2)
  next().ok()
  await third
})

it('uses no thread again that failed at a job, died while it waited or held a large recording', async () => {
  const { threads, made, next } = counted()
  const failed = threads.run(survey())
  next().fail()
  await expect(failed).rejects.toThrow('injected')
  expect(made[0].isStopped).toBe(true)
  const second = threads.run(survey())
  next().ok()
  await second
  made[1].isAlive = false
  const third = threads.run(survey(300e6))
  next().ok()
  await third
  expect(made.map(({ jobs }) => jobs)).toEqual([1, 1, 1])
  expect(made[2].isStopped).toBe(true)
  const fourth = threads.run({ kind: 'survey', file: { ...fileOf(1000), further: [fileOf(300e6)] } })
  next().ok()
  await fourth
  expect(made[3].isStopped).toBe(true)
})

it('ends a thread that nobody has used for a while', async () => {
  const { threads, made, next } = counted(20)
  const done = threads.run(survey())
  next().ok()
  await done
  await expect.poll(() => made[0].isStopped, { timeout: 10_000 }).toBe(true)
})

it('makes the same of a file in a thread that has read, inspected and refused others before', async () => {
  const threads = keptThreads((packs) => startThread(packs, commandWorker))
  const machine = sampleMachine(NAME)
  const site = siteSchema.parse({})
  const file = arrivedSample(`${NAME}.csv`)
  const task = { kind: 'import' as const, file, machine, site, corrections: [] }
  const one = async () => {
    const { rows, onRows } = gatheredRows()
    return { imported: await threads.run(task, () => {}, onRows), rows: rows.samples.length }
  }
  try {
    const first = await one()
    await threads.run({ kind: 'inspect', file: fileOf(statSync(path).size), machine, timeZone: 'UTC' })
    const again = await one()
    expect(again).toEqual(first)
    const missing = { ...task, file: { ...file, path: `${path}.missing` } }
    await expect(threads.run(missing, () => {}, gatheredRows().onRows)).rejects.toThrow()
    expect(await one()).toEqual(first)
  } finally {
    await threads.stop()
  }
}, 120_000)
