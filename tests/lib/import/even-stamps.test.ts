import { describe, expect, it } from 'vitest'
import { ProblemLog } from '@/lib/import/problem-log'
import { settleTime, type TimeContext } from '@/lib/import/settle-time'
import { type DayReading, StampColumn } from '@/lib/import/stamp-column'
import { inFull } from '@/lib/samples/samples'

/** A law of reading, which needs no source: what is settled without an array of stamps is what is settled with one. */
const ROWS = (1 << 22) + 5
const MS_PER_DAY = 86_400_000
const STEP_MS = 10

/** Looked at stamp by stamp. */
class OneByOne extends StampColumn {
  override get even() {
    return null
  }
}

interface Clock {
  /** Begins at midnight. */
  readonly date: string
  readonly zoneMinutes?: number
  /** A row that is this late. */
  readonly lateMs?: number
  readonly timeZone?: string
  readonly startedAt?: string
}

/** Stamps as a byte-level reader keeps them: day by day, ms since midnight. */
function fill<Column extends StampColumn>(column: Column, { date, zoneMinutes, lateMs }: Clock): Column {
  const firstMs = Date.parse(`${date}T00:00:00Z`)
  const perDay = MS_PER_DAY / STEP_MS
  for (let from = 0; from < ROWS; from += perDay) {
    const dayMs = firstMs + from * STEP_MS
    const day: DayReading = {
      date: 'sure',
      dayFirstMs: dayMs,
      monthFirstMs: dayMs,
      zoneMinutes: zoneMinutes ?? Number.NaN,
      twelveHour: false,
    }
    const count = Math.min(perDay, ROWS - from)
    const values = new Float64Array(count)
    for (let i = 0; i < count; i++) values[i] = i * STEP_MS
    if (from === 0) values[1000] += lateMs ?? 0
    column.keepPlain(day, { values, first: 0, stride: 1 }, count)
  }
  return column
}

function settled(column: StampColumn, { timeZone, startedAt }: Clock) {
  const problems = new ProblemLog()
  const context: TimeContext = {
    timeColumn: 'Time',
    preamble: { date: null, timeMs: null, intervalMs: null, line: null },
    timeZone: timeZone ?? 'Europe/Vienna',
    decimalComma: false,
    usUnits: false,
    answers: startedAt ? { startedAt } : {},
    problems,
    lineOf: (row) => row + 2,
    same: () => false,
  }
  const { timeS, ...rest } = settleTime({ kind: 'stamp', column }, context)
  return { isHeld: !(timeS instanceof Float64Array), timeS: inFull(timeS), rest, problems: problems.list() }
}

describe('stamps of a long recording', () => {
  it.each<[string, Clock, boolean]>([
    ['a local clock', { date: '2026-03-02' }, true],
    ['a clock with its zone', { date: '2026-03-02', zoneMinutes: 330 }, true],
    ['a start that nobody had to tell', { date: '2026-03-02', startedAt: '2026-03-01T10:00' }, true],
    ['a clock set forward within', { date: '2026-03-29' }, false],
    ['a clock set back within', { date: '2026-10-25' }, false],
    ['a zone that is never changed', { date: '2026-03-29', timeZone: 'UTC' }, true],
    ['a late row', { date: '2026-03-02', lateMs: 3 }, false],
    ['a clock that was never set', { date: '2000-01-01' }, true],
  ])('%s: the same as stamp by stamp', (_, clock, isHeld) => {
    const even = settled(fill(new StampColumn(null), clock), clock)
    const each = settled(fill(new OneByOne(null), clock), clock)
    expect([even.isHeld, each.isHeld]).toEqual([isHeld, false])
    expect(even.rest).toEqual(each.rest)
    expect(even.problems).toEqual(each.problems)
    expect(even.timeS.length).toBe(each.timeS.length)
    expect(even.timeS.findIndex((time, i) => time !== each.timeS[i])).toBe(-1)
  })
})
