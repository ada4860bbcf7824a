import { describe, expect, it } from 'vitest'
import type { TankwardError } from '@/lib/errors'
import { IMPORT_ERROR_CODES } from '@/lib/import/codes'
import { readLog } from '@/lib/import/read-log'
import { MACHINE, readBytes, readText, utf8 } from './log-text'

const HEAD = 'Time,Pump pressure [bar],Line flow [L/min],Motor current [A]\n'
const ROWS = '2026-03-02T06:00:00,100,50,20\n2026-03-02T06:00:01,101,51,21\n'

async function codeOf(promise: Promise<unknown>): Promise<TankwardError> {
  return promise.then(
    () => expect.fail('read without complaint'),
    (error: TankwardError) => error,
  )
}

const bytes = (...values: number[]): Uint8Array =>
  Uint8Array.from([...values, ...new Array<number>(64).fill(0)])
const cases: readonly (readonly [string, string, Uint8Array])[] = [
  ['nothing', 'file-empty', new Uint8Array(0)],
  ['blank lines', 'file-empty', utf8('\n\n  \n')],
  ['PNG', 'file-image', bytes(0x89, 0x50, 0x4e, 0x47, 13, 10)],
  ['JPEG', 'file-image', bytes(0xff, 0xd8, 0xff, 0xe0)],
  ['PDF', 'file-pdf', utf8('%PDF-1.7\n')],
  [
    'xlsx',
    'file-spreadsheet',
    Uint8Array.from([0x50, 0x4b, 3, 4, ...utf8('....[Content_Types].xml xl/workbook.xml')]),
  ],
  ['xls', 'file-spreadsheet', bytes(0xd0, 0xcf, 0x11, 0xe0)],
  ['zip', 'file-archive', Uint8Array.from([0x50, 0x4b, 3, 4, ...utf8('....log.csv')])],
  ['gzip', 'file-gzip', bytes(0x1f, 0x8b, 8)],
  ['a page', 'file-html', utf8('<!DOCTYPE html>\n<html><body>404</body></html>')],
  ['XML', 'file-xml', utf8('<?xml version="1.0"?><a/>')],
  ['JSON', 'file-json', utf8('{ "version": 1 }')],
  ['binary', 'file-binary', Uint8Array.from({ length: 4096 }, (_, i) => (i * 7919) % 256)],
  ['prose', 'file-without-table', utf8('Dear colleague\n\nplease find the log attached\n\nregards\n')],
  ['only a header', 'file-header-only', utf8(HEAD)],
  ['one line of 2 MB', 'line-too-long', utf8('1,2,'.repeat(600_000))],
  ['one line of 2 MB below a header', 'line-too-long', utf8(`a,b\n${'1,2,'.repeat(600_000)}`)],
  [
    'a hundred thousand columns',
    'too-many-columns',
    utf8(`${'1,'.repeat(100_000)}1\n${'1,'.repeat(100_000)}1\n`),
  ],
  ['no time', 'time-column-not-found', utf8('Pump pressure [bar],Line flow [L/min]\n100,50\n99,51\n98,50\n')],
  [
    'no channel',
    'no-usable-channel',
    utf8('Time,Humidity [%]\n2026-03-02T06:00:00,50\n2026-03-02T06:00:01,51\n'),
  ],
  [
    'no value anywhere',
    'no-usable-rows',
    utf8(`${HEAD}2026-03-02T06:00:00,-,-,-\n2026-03-02T06:00:01,-,-,-\n`),
  ],
  [
    'decimal commas that split the numbers',
    'columns-differ-from-header',
    utf8('Time,P [bar],I [A]\n06:00:00,1,5,2,5\n06:00:01,1,6,2,5\n06:00:02,1,7,2,5\n'),
  ],
]

describe('what cannot be read is named', () => {
  for (const [name, code, content] of cases) {
    it(name, async () => {
      const error = await codeOf(readBytes(content, { chunk: 65536 }))
      expect(error).toMatchObject({ name: 'TankwardError', code })
      expect(IMPORT_ERROR_CODES).toContain(error.code)
      expect(error.values.fileName).toBe('log.csv')
    })
  }
})

it.each([
  ['refused at once', 'file-pdf', utf8('%PDF-1.7')],
  [
    'refused when the table is known',
    'no-usable-channel',
    utf8(`Time,Humidity [%]\n${'06:00:00,5\n06:00:01,5\n'.repeat(10)}`),
  ],
  ['refused half way', 'line-too-long', utf8(`${HEAD}${ROWS}`)],
])('closes its source: %s', async (_, code, content) => {
  let closed = false
  async function* source(): AsyncGenerator<Uint8Array> {
    try {
      yield content
      for (;;) yield new Uint8Array(300_000).fill(49)
    } finally {
      closed = true
    }
  }
  const error = await codeOf(readLog(source(), { fileName: 'log.csv', machine: null, timeZone: 'UTC' }))
  expect(error).toMatchObject({ code })
  expect(closed).toBe(true)
})

describe('a declared machine', () => {
  const declare = (...channels: NonNullable<typeof MACHINE.channels>) => ({ ...MACHINE, channels })

  it('says which declared column is not there and which are', async () => {
    const machine = declare({
      column: 'P9 [bar]',
      quantity: 'pressure',
      location: 'pump-outlet',
      unit: 'bar',
    })
    const error = await codeOf(readText(HEAD + ROWS, { machine }))
    expect(error).toMatchObject({ code: 'channel-column-not-found', values: { column: 'P9 [bar]', line: 1 } })
    expect(error.values.columns).toContain('Pump pressure [bar]')
  })
  it('refuses a unit that does not belong to the quantity', async () => {
    const machine = declare({ column: 'Pump pressure [bar]', quantity: 'pressure', unit: 'kW' })
    expect(await codeOf(readText(HEAD + ROWS, { machine }))).toMatchObject({ code: 'channel-unit-mismatch' })
  })
  it('asks for a unit where the header has one that no channel can have', async () => {
    const machine = declare({ column: 'Pump pressure [inHg]', quantity: 'pressure' })
    const text = HEAD.replace('Pump pressure [bar]', 'Pump pressure [inHg]') + ROWS
    expect(await codeOf(readText(text, { machine }))).toMatchObject({ code: 'channel-unit-unknown' })
  })
  it('refuses one column declared twice', async () => {
    const channel = { column: 'Pump pressure [bar]', quantity: 'pressure' as const }
    const machine = declare(channel, channel)
    expect(await codeOf(readText(HEAD + ROWS, { machine }))).toMatchObject({ code: 'channel-column-twice' })
  })
})
