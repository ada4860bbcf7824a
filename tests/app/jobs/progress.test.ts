import { expect, it } from 'vitest'
import { progressTo } from '@/app/_jobs/progress'

it('writes each change of state and no more than two a second of the rest, in order', async () => {
  const written: string[] = []
  let nowMs = 0
  const progress = progressTo(
    async (state, share) => {
      written.push(`${state} ${share}`)
    },
    () => nowMs,
  )
  for (let i = 0; i <= 100; i++) {
    nowMs = i * 10
    progress.report('reading', i / 100)
  }
  progress.report('analysing', 0)
  await progress.settled()
  expect(written).toEqual(['reading 0', 'reading 0.5', 'reading 1', 'analysing 0'])
})

it('goes on where a write fails: that is no failed import', async () => {
  let calls = 0
  const progress = progressTo(async () => {
    calls++
    throw new Error('database busy')
  })
  progress.report('reading', 0)
  progress.report('analysing', 0)
  await expect(progress.settled()).resolves.toBeUndefined()
  expect(calls).toBe(2)
})
