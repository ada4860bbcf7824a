import { describe, expect, it } from 'vitest'
import { isSameLayout } from '@/lib/contract/layout'
import type { Machine } from '@/lib/contract/machine'
import { columnEvidence } from '@/lib/import/column-evidence'
import { surveyLog } from '@/lib/import/survey'
import { inChunks, MACHINE, readText, utf8 } from './log-text'

const surveyed = (text: string) => surveyLog(inChunks(utf8(text)), 'log.csv')
const rows = (count: number, row: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => row(i)).join('\n')
const time = (i: number) => `2026-03-04 06:00:${String(i).padStart(2, '0')}`

/** A press that moves, so that a place can be told from values. */
const swing = (i: number) => (i % 10 < 5 ? 150 : 20)

describe('surveyLog', () => {
  it('lists every column with its unit, kind, first cells and what its name speaks of', async () => {
    const text = `When;P1 [bar];Remark;Max pressure [bar];Empty\n${rows(20, (i) => `${time(i)};${100 + i};ok;250;`)}\n`
    const { columns } = await surveyed(text)
    expect(columns.map(({ column, unitText, kind, named }) => [column, unitText, kind, named])).toEqual([
      ['When', null, 'time', null],
      ['P1 [bar]', 'bar', 'number', 'pressure'],
      ['Remark', null, 'word', null],
      ['Max pressure [bar]', 'bar', 'number', 'never'],
      ['Empty', null, 'empty', null],
    ])
    expect(columns[1].examples).toEqual(['100', '119'])
    expect(columns[1].unitQuantity).toBe('pressure')
  })

  it('shows a date and a number that read two ways', async () => {
    const text = `Date;Time;A;B\n${rows(20, (i) => `03/04/2026;${time(i).slice(11)};1.${200 + i};7`)}\n`
    const { timeCells, openNumber } = await surveyed(text)
    expect(timeCells).toEqual(['03/04/2026', '06:00:00'])
    expect(openNumber).toEqual({ column: 'A', text: '1.200' })
  })

  it('takes units in a row of their own, and columns without a header by number', async () => {
    const units = await surveyed(`Time;P1;I1\n;bar;A\n${rows(20, (i) => `${time(i)};${100 + i};3`)}\n`)
    expect(units.layout.units).toEqual([null, 'bar', 'A'])
    const bare = await surveyed(rows(20, (i) => `${time(i)};${100 + i};3`))
    expect(bare.layout.header).toBeNull()
    expect(bare.columns.map(({ column }) => column)).toEqual(['Column 1', 'Column 2', 'Column 3'])
  })

  it('refuses what is no table', async () => {
    await expect(surveyed('<!doctype html><title>x</title>')).rejects.toMatchObject({ code: 'file-html' })
  })
})

describe('isSameLayout', () => {
  const base = `Time;P1 [bar];Q [l/min];Remark\n${rows(20, (i) => `${time(i)};${100 + i};${i};`)}\n`
  const layout = async (text: string) => (await surveyed(text)).layout

  it('knows a logger’s other file again: other times, other values, another preamble, a remark', async () => {
    const first = await layout(base)
    const other = `Device;7\n\n${base.replaceAll('2026-03-04', '2026-05-30')}`
    expect(isSameLayout(first, await layout(other))).toBe(true)
    expect(isSameLayout(first, await layout(base.replace(/;\n/g, ';note\n')))).toBe(true)
  })

  it.each([
    ['a header cell', base.replace('P1', 'P2')],
    ['its case', base.replace('P1', 'p1')],
    ['a unit', base.replace('bar', 'psi')],
    ['the separator', base.replaceAll(';', '\t')],
    ['the order of columns', base.replace('P1 [bar];Q [l/min]', 'Q [l/min];P1 [bar]')],
    ['the number of columns', base.replaceAll(/;(?=[^;\n]*\n)/g, ';9;')],
    ['no header', base.slice(base.indexOf('\n') + 1)],
  ])('tells apart by %s', async (_what, text) => {
    expect(isSameLayout(await layout(base), await layout(text))).toBe(false)
  })

  it('tells headerless files apart by the kinds of their columns', async () => {
    const numbers = await layout(rows(20, (i) => `${time(i)};${100 + i};3`))
    expect(isSameLayout(numbers, await layout(rows(20, (i) => `${time(i)};${7 * i};4`)))).toBe(true)
    expect(isSameLayout(numbers, await layout(rows(20, (i) => `${time(i)};${100 + i};run`)))).toBe(false)
  })
})

describe('columnEvidence', () => {
  const understood = async (text: string, channels: Machine['channels'] = undefined) => {
    const machine = { ...MACHINE, channels }
    const { report } = await readText(text, { machine })
    return columnEvidence(await surveyed(text), report, channels ?? [])
  }
  const summary = (columns: Awaited<ReturnType<typeof understood>>) =>
    columns.map(({ channel, evidence, unused }) => unused ?? `${channel?.location} ${evidence?.confidence}`)

  it('says what told each channel, and why a column is none', async () => {
    const text = `Time;Pump pressure [bar];Druck [bar];Motor [A];Set point [bar];Note;Spare\n${rows(
      40,
      (i) => `2026-03-04 06:00:${String(i).padStart(2, '0')};${swing(i)};${swing(i) * 0.6};20;150;ok;`,
    )}\n`
    const columns = await understood(text)
    expect(summary(columns)).toEqual([
      'time',
      'pump-outlet certain',
      'load guessed',
      'motor-supply likely',
      'other-quantity',
      'words',
      'empty',
    ])
    expect(columns[1].evidence).toEqual({
      quantity: 'name-and-unit',
      location: 'name',
      unit: 'header',
      confidence: 'certain',
    })
    expect(columns[2].evidence?.location).toBe('values')
    expect(columns[3].evidence?.quantity).toBe('unit')
  })

  it('follows what a person declared, by name and by the number of a column without a header', async () => {
    const bare = rows(40, (i) => `2026-03-04 06:00:${String(i).padStart(2, '0')};20;${swing(i)}`)
    const byNumber = await understood(bare, [
      { column: 'Column 3', quantity: 'pressure', location: 'pump-outlet', unit: 'bar' },
    ])
    expect(summary(byNumber)).toEqual(['time', 'not-recognised', 'pump-outlet declared'])
    const inOrder = await understood(bare, [
      { column: 'Motor', quantity: 'current', unit: 'A' },
      { column: 'Pump', quantity: 'pressure', location: 'pump-outlet', unit: 'bar' },
    ])
    expect(summary(inOrder)).toEqual(['time', 'motor-supply declared', 'pump-outlet declared'])
  })

  it('calls guessed what only the values tell', async () => {
    const bare = rows(40, (i) => `2026-03-04 06:00:${String(i).padStart(2, '0')};${swing(i)};${40 + (i % 3)}`)
    const columns = await understood(bare)
    expect(columns[1].evidence).toMatchObject({ quantity: 'values', confidence: 'guessed' })
  })
})
