import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { leftOutOf } from '@/lib/months/overlap'
import { rollUp } from '@/lib/months/rollup'
import { logOf } from './log'

const H = 3600
const at = (time: string) => Date.parse(`2026-03-02T${time}Z`)
const log = (id: string, imported: string, from: string, to: string) => ({
  id,
  importedMs: at(imported),
  startedMs: at(from),
  endedMs: at(to),
})

describe('which of two recordings of the same time counts', () => {
  const first = log('a', '18:00', '06:00', '12:00')
  const later = log('b', '19:00', '10:00', '14:00')
  it('the one imported later, for the time that both hold', () => {
    expect(leftOutOf(first, [first, later])).toEqual([{ fromMs: at('10:00'), toMs: at('12:00') }])
    expect(leftOutOf(later, [first, later])).toEqual([])
  })
  it('of two imported at once exactly one', () => {
    const twin = { ...later, importedMs: first.importedMs }
    expect([leftOutOf(first, [twin]), leftOutOf(twin, [first])].map((spans) => spans.length)).toEqual([1, 0])
  })
  it('recordings that only touch, or have no date, count whole', () => {
    expect(leftOutOf(first, [log('b', '19:00', '12:00', '14:00')])).toEqual([])
    expect(leftOutOf({ ...first, startedMs: null }, [later])).toEqual([])
  })
})

it('time recorded twice counts once: the sum is that of one recording over all of it', () => {
  const site = siteSchema.parse({ energyPricePerKWh: 0.2 })
  const roll = (hours: number, start: string, leftOut: { fromMs: number; toMs: number }[]) => {
    const { log: one, analysed } = logOf(
      [{ kind: 'idle-loaded', holdS: hours * H, relief: 8840 }],
      `2026-03-02T${start}Z`,
      12 * hours,
    )
    return rollUp(one, analysed, site, leftOut)
  }
  const whole = roll(8, '06:00', [])
  const parts = [...roll(6, '06:00', [{ fromMs: at('10:00'), toMs: at('12:00') }]), ...roll(4, '10:00', [])]
  for (const key of ['seconds', 'electricJ', 'overReliefJ', 'cost', 'cycles'] as const) {
    const sum = (rows: typeof whole) => rows.reduce((total, row) => total + row[key], 0)
    expect(sum(parts)).toBeCloseTo(sum(whole), 6)
  }
})
