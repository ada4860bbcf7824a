import { describe, expect, it } from 'vitest'
import type { ColumnAnswer, Question } from '@/app/_server/inspection-shapes'
import {
  draftFor,
  emptyDraft,
  hasSaid,
  isReadSo,
  lastingReading,
  openQuestions,
  readingOf,
  sendingOf,
} from '@/app/_ui/upload/answers'
import { clockZones } from '@/app/_ui/upload/clock-zones'
import {
  channelsOf,
  draftFault,
  draftsOf,
  suggestedDrafts,
  withUnit,
  withUse,
} from '@/app/_ui/upload/column-draft'
import type { Layout } from '@/lib/contract/layout'

const LAYOUT: Layout = { delimiter: ';', header: ['T', 'A'], units: [null, null], kinds: ['time', 'number'] }

const column = (part: Partial<ColumnAnswer>): ColumnAnswer => ({
  index: 1,
  column: 'A',
  unitText: null,
  kind: 'number',
  examples: ['1', '2'],
  named: null,
  namedLocation: null,
  unitQuantity: null,
  channel: null,
  evidence: null,
  unused: 'not-recognised',
  ...part,
})

const question = (id: Question['id'], example: string | null = null): Question => ({
  id,
  example,
  column: null,
  line: null,
  choices: [],
})

const inspection = (questions: Question[], overlaps = 0, sameAs: string | null = null) => ({
  questions,
  sameAs,
  overlaps: Array.from({ length: overlaps }, (_, i) => ({
    id: `log ${i}`,
    fileName: 'a.csv',
    startedAt: '2026-05-01T06:00:00.000Z',
    endedAt: '2026-05-01T14:00:00.000Z',
  })),
})

const PUMP = withUse(draftsOf([column({})])[0], 'pressure pump-outlet', column({}))

describe('openQuestions', () => {
  const draft = emptyDraft('m', LAYOUT)
  const all = inspection([
    question('dayOrder'),
    question('startedAt'),
    question('columns', 'no-pump-pressure'),
  ])

  it('are all that was asked until it is answered, by file or by layout', () => {
    expect(openQuestions(all, undefined, {})).toEqual(['dayOrder', 'startedAt', 'columns'])
    expect(openQuestions(all, { ...draft, dayOrder: 'day-first' }, {})).toEqual(['startedAt', 'columns'])
    const looked = { ...draft, dayOrder: 'day-first' as const, columns: [PUMP], columnsRight: true }
    expect(openQuestions(all, looked, { startedAt: '2026-05-01T06:00' })).toEqual([])
    expect(openQuestions(all, looked, { startedAt: null })).toEqual([])
  })

  it('keep the columns open while none is the pump’s pressure, whatever was ticked', () => {
    const wrong = { ...draft, columns: [withUse(PUMP, 'pressure load', column({}))], columnsRight: true }
    expect(openQuestions(inspection([question('columns')]), wrong, {})).toEqual(['columns'])
    expect(openQuestions(inspection([]), wrong, {})).toEqual(['columns'])
  })

  it('ask which of two logs of one time counts, and not where the very file is stored', () => {
    expect(openQuestions(inspection([], 1), undefined, {})).toEqual(['overlap'])
    expect(openQuestions(inspection([], 1), undefined, { replaces: null })).toEqual([])
    expect(openQuestions(inspection([], 1, 'log 7'), undefined, {})).toEqual([])
  })
})

describe('what is sent', () => {
  const draft = { ...emptyDraft('m', LAYOUT), dayOrder: 'month-first' as const, columns: [PUMP] }
  const channels = [{ column: 'A', quantity: 'pressure', location: 'pump-outlet', unit: 'bar' }]

  it('is what is remembered, and over it what was said', () => {
    expect(sendingOf(null, undefined, {})).toEqual({ layout: null, reading: {}, replaces: null })
    const remembered = { id: 'l', reading: { dayOrder: 'day-first' as const } }
    expect(sendingOf(remembered, draft, { startedAt: '2026-05-01', replaces: 'x' })).toEqual({
      layout: 'l',
      reading: { dayOrder: 'month-first', channels, startedAt: '2026-05-01' },
      replaces: 'x',
    })
  })

  it('lasts for a layout without the start of one recording, unless nobody ever knows it', () => {
    const before = { dayOrder: 'day-first' as const, timeZone: 'UTC' }
    const kept = { dayOrder: 'month-first', timeZone: 'UTC', channels }
    expect(lastingReading(before, draft, { startedAt: '2026-05-01' })).toEqual(kept)
    expect(lastingReading(before, draft, { startedAt: null })).toEqual({ ...kept, startedAt: null })
  })

  it('is nothing where nothing was said', () => {
    expect(hasSaid(undefined)).toBe(false)
    expect(hasSaid(emptyDraft('m', LAYOUT))).toBe(false)
    expect(readingOf({ ...emptyDraft('m', LAYOUT), timeZone: 'UTC' })).toEqual({ timeZone: 'UTC' })
  })

  it('is known to have been read so, in whatever order the server gives it back', () => {
    const given = [{ unit: 'bar', location: 'pump-outlet', quantity: 'pressure', column: 'A' }] as const
    const readWith = { timeZone: 'UTC', channels: [...given], dayOrder: 'month-first' as const }
    expect(isReadSo(readWith, draft)).toBe(true)
    expect(isReadSo({ ...readWith, dayOrder: 'day-first' }, draft)).toBe(false)
    expect(isReadSo(undefined, draft)).toBe(false)
    expect(isReadSo(undefined, undefined)).toBe(true)
  })

  it('serves files of the same layout and machine only', () => {
    const drafts = [draft]
    expect(draftFor(drafts, 'm', { ...LAYOUT, kinds: ['time', 'empty'] })).toBe(draft)
    expect(draftFor(drafts, 'other', LAYOUT)).toBeUndefined()
    expect(draftFor(drafts, 'm', { ...LAYOUT, delimiter: ',' })).toBeUndefined()
  })
})

describe('columns as chosen', () => {
  it('say again what was understood, accuracy and scale too', () => {
    const channel = {
      column: 'A',
      quantity: 'flow' as const,
      location: 'pump-outlet' as const,
      unit: 'L/min' as const,
      accuracy: { percentOfReading: 1 },
      scale: { from: [0, 1] as [number, number], to: [0, 60] as [number, number] },
    }
    expect(channelsOf(draftsOf([column({ channel })]))).toEqual([channel])
    // A scale from litres a second means nothing in another unit.
    const changed = withUnit(draftsOf([column({ channel })])[0], 'gpm')
    expect(channelsOf([changed])[0]).toMatchObject({ unit: 'gpm', accuracy: { percentOfReading: 1 } })
    expect(channelsOf([changed])[0]).not.toHaveProperty('scale')
  })

  it('take the unit that the file writes where it fits, else the usual one', () => {
    const written = column({ unitText: 'psi', unitQuantity: 'pressure' })
    const [draft] = draftsOf([written])
    expect(channelsOf([withUse(draft, 'pressure load', written)])).toEqual([
      { column: 'A', quantity: 'pressure', location: 'load' },
    ])
    expect(channelsOf([withUse(draft, 'flow system-line', written)])[0].unit).toBe('L/min')
    expect(channelsOf([withUse(draft, '', written)])).toEqual([])
  })

  it('can be taken as their names and units speak of them, and no stranger is', () => {
    const bar = { unitText: 'bar', unitQuantity: 'pressure' as const }
    const suggested = suggestedDrafts([
      column({ index: 0, column: 'Cylinder [bar]', ...bar, named: 'pressure', namedLocation: 'load' }),
      column({ index: 1, column: 'X [bar]', ...bar }),
      column({ index: 2, column: 'Max [bar]', ...bar, named: 'never' }),
      column({ index: 3, column: 'Flow', kind: 'word', named: 'flow' }),
    ])
    expect(suggested.map(({ use, unit }) => [use, unit])).toEqual([
      ['pressure load', ''],
      ['pressure pump-outlet', ''],
      ['', ''],
      ['', ''],
    ])
  })

  it('take the ends of a raw signal, all four or none', () => {
    const raw = { ...PUMP, rawLow: '4', rawHigh: '20', low: '0', high: '' }
    expect(draftFault(raw)).toBe('ends-missing')
    expect(draftFault({ ...raw, high: '0' })).toBe('ends-equal')
    const whole = { ...raw, high: '250,5' }
    expect(draftFault(whole)).toBeNull()
    expect(channelsOf([whole])[0].scale).toEqual({ from: [4, 20], to: [0, 250.5] })
  })
})

describe('clockZones', () => {
  const zones = (zone: string) => clockZones(zone, 2026).map(([value]) => value)
  // Offsets of the IANA time zone database.
  it.each([
    ['Europe/Vienna', ['Europe/Vienna', '+01:00', '+02:00', 'UTC']],
    ['America/St_Johns', ['America/St_Johns', '-03:30', '-02:30', 'UTC']],
    ['Asia/Kolkata', ['Asia/Kolkata', 'UTC']],
    ['Australia/Sydney', ['Australia/Sydney', '+10:00', '+11:00', 'UTC']],
    ['Europe/London', ['Europe/London', '+00:00', '+01:00']],
    ['UTC', ['UTC']],
  ])('%s', (zone, expected) => expect(zones(zone)).toEqual(expected))
})
