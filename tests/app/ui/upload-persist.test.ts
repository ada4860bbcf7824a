import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { filePrint } from '@/app/_ui/upload/file-print'
import { ConnectionLost, persist } from '@/app/_ui/upload/persist'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

/** Runs until something ends, giving back when each attempt was made, in seconds. */
async function attempts(outcomes: readonly ('lost' | 'lost after bytes' | 'good' | 'refused')[]) {
  const began = Date.now()
  const at: number[] = []
  const cuts: boolean[] = []
  const stop = new AbortController()
  const work = persist(
    async (moved) => {
      const outcome = outcomes[at.length]
      at.push((Date.now() - began) / 1000)
      if (outcome === 'good') return 'answer'
      if (outcome === 'refused') throw new Error('no such machine')
      if (outcome === 'lost after bytes') moved()
      throw new ConnectionLost()
    },
    { signal: stop.signal, onCut: (isCut) => cuts.push(isCut) },
  ).catch((error: Error) => error.message)
  await vi.advanceTimersByTimeAsync(200_000)
  stop.abort(new Error('cancelled'))
  return { at, cuts, result: await work }
}

it('tries again with growing waits, half a minute at most, until it goes well', async () => {
  const lost = Array.from({ length: 8 }, () => 'lost' as const)
  expect(await attempts([...lost, 'good'])).toEqual({
    at: [0, 1, 3, 7, 15, 30, 60, 90, 120],
    cuts: [...lost.map(() => true), false],
    result: 'answer',
  })
})

it('begins its waits anew where something went through', async () => {
  const { at } = await attempts(['lost', 'lost', 'lost after bytes', 'lost', 'good'])
  expect(at).toEqual([0, 1, 3, 4, 6])
})

it('tries nothing again that was refused, and ends when it is cancelled while it waits', async () => {
  expect(await attempts(['lost', 'refused'])).toMatchObject({ at: [0, 1], result: 'no such machine' })
  const all = await attempts(Array.from({ length: 30 }, () => 'lost' as const))
  expect(all.result).toBe('cancelled')
  expect(all.at.length).toBeLessThan(15)
})

it('knows a file again by what is in it too: loggers without a clock give all their files one name and date', async () => {
  const file = (text: string, name = 'LOG00001.CSV') =>
    new File([text], name, { lastModified: 315_532_800_000 })
  const rows = (first: string) => `${first}${'0.0,0.0\n'.repeat(100_000)}`
  const print = await filePrint(file(rows('a')))
  expect(await filePrint(file(rows('a')))).toBe(print)
  expect(await filePrint(file(rows('b')))).not.toBe(print)
  expect(await filePrint(file(rows('a'), 'LOG00002.CSV'))).not.toBe(print)
  expect(await filePrint(file(`${rows('a').slice(0, -1)}\r`))).not.toBe(print)
})
