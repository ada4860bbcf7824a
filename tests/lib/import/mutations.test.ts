import fc from 'fast-check'
import { expect, it } from 'vitest'
import { TankwardError } from '@/lib/errors'
import { IMPORT_ERROR_CODES, IMPORT_PROBLEM_CODES } from '@/lib/import/codes'
import { MACHINE, readBytes, utf8 } from './log-text'

const stamp = (i: number): string => new Date(Date.UTC(2026, 2, 2, 6) + i * 500).toISOString().slice(0, 23)
const LINES = Array.from(
  { length: 60 },
  (_, i) => `${stamp(i)};${100 + (i % 7)},5;${80 - (i % 9)};${20 + (i % 4)},25`,
)
const BASE = utf8(
  `Logger 7\n\nZeit;Pumpendruck [bar];Volumenstrom [l/min];Strom [A]\n${LINES.join('\r\n')}\r\n`,
)

const edit = fc.record({
  at: fc.nat(BASE.length - 1),
  kind: fc.constantFrom('set', 'delete', 'insert', 'repeat', 'cut'),
  byte: fc.oneof(fc.nat(255), fc.constantFrom(...utf8('\r\n\t;,."\'-+:0129eE |/'))),
  length: fc.integer({ min: 1, max: 90 }),
})
type Edit = typeof edit extends fc.Arbitrary<infer T> ? T : never

function apply(bytes: number[], { at, kind, byte, length }: Edit): number[] {
  const i = Math.min(at, bytes.length)
  switch (kind) {
    case 'set':
      return [...bytes.slice(0, i), byte, ...bytes.slice(i + 1)]
    case 'delete':
      return [...bytes.slice(0, i), ...bytes.slice(i + length)]
    case 'insert':
      return [...bytes.slice(0, i), byte, ...bytes.slice(i)]
    case 'repeat':
      return [...bytes.slice(0, i + length), ...bytes.slice(i)]
    default:
      return bytes.slice(0, i)
  }
}

async function check(bytes: Uint8Array): Promise<void> {
  for (const machine of [null, MACHINE]) {
    try {
      const { report, trace } = await readBytes(bytes, { machine, chunk: 1000, timeZone: 'Europe/Vienna' })
      expect(report.rowsUsed + report.rowsRejected).toBe(report.rowsRead)
      expect(trace.timeS).toHaveLength(report.rowsUsed)
      for (let i = 1; i < trace.timeS.length; i++) expect(trace.timeS[i]).toBeGreaterThan(trace.timeS[i - 1])
      for (const channel of trace.channels) {
        expect(channel.values).toHaveLength(report.rowsUsed)
        expect(channel.values.includes(Number.POSITIVE_INFINITY)).toBe(false)
      }
      for (const problem of report.problems) {
        expect(IMPORT_PROBLEM_CODES).toContain(problem.code)
        expect(problem.count).toBeGreaterThan(0)
      }
      const keys = report.problems.map((problem) => `${problem.code} ${problem.column}`)
      expect(new Set(keys).size).toBe(keys.length)
    } catch (error) {
      if (!(error instanceof TankwardError)) throw error
      expect(IMPORT_ERROR_CODES).toContain(error.code)
    }
  }
}

it('never breaks on a damaged file', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) =>
      check(Uint8Array.from(edits.reduce(apply, Array.from(BASE)))),
    ),
    { numRuns: 400 },
  )
})

it('never breaks on bytes of any kind', async () => {
  await fc.assert(fc.asyncProperty(fc.uint8Array({ maxLength: 400 }), check), { numRuns: 200 })
  const text = fc.string({ unit: fc.constantFrom(...'0123456789.,;:\t\n -/TAPM"bar'), maxLength: 300 })
  await fc.assert(fc.asyncProperty(text.map(utf8), check), { numRuns: 200 })
})

it('one damaged cell changes no other value', async () => {
  const clean = await readBytes(BASE)
  const cell = fc.record({
    row: fc.integer({ min: 3, max: 50 }),
    column: fc.integer({ min: 1, max: 3 }),
    text: fc.constantFrom('', '-', 'OL', '#', '1.2.3', 'x9', '--5', '"', '12,3,4'),
  })
  await fc.assert(
    fc.asyncProperty(cell, async ({ row, column, text }) => {
      const lines = LINES.map((line, i) => {
        if (i !== row) return line
        const cells = line.split(';')
        cells[column] = text
        return cells.join(';')
      })
      const bytes = utf8(
        `Logger 7\n\nZeit;Pumpendruck [bar];Volumenstrom [l/min];Strom [A]\n${lines.join('\r\n')}\r\n`,
      )
      const log = await readBytes(bytes)
      expect(log.report.problems.filter((p) => p.code === 'unreadable-cell')).toMatchObject([
        { line: row + 4, count: 1, column: clean.trace.channels[column - 1].column },
      ])
      log.trace.channels.forEach((channel, c) => {
        const expected = clean.trace.channels[c].values.slice()
        if (c === column - 1) expected[row] = Number.NaN
        expect(channel.values).toEqual(expected)
      })
    }),
    { numRuns: 80 },
  )
})
