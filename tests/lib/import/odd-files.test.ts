import fc from 'fast-check'
import { afterAll, expect, it } from 'vitest'
import type { Answers } from '@/lib/contract/reading'
import { TankwardError } from '@/lib/errors'
import { IMPORT_ERROR_CODES } from '@/lib/import/codes'
import type { FullLog } from '@/lib/import/report'
import { readBytes } from './log-text'
import { type OddFile, oddFile, recipes } from './odd-file'

// Whatever a logger makes of a recording: it is read right, or what stays open is asked and the answer makes it right, or
// it is refused by name. Never is a number, a time or a row silently wrong. DIALECT_TABLE=1 prints how many of each.

const FILES = 500
/** Of all files so many may be refused: more would be a reader that reads nothing. */
const MOST_REFUSED = 0.15

const tally = new Map<string, number>()
const count = (what: string) => tally.set(what, (tally.get(what) ?? 0) + 1)
afterAll(() => {
  if (process.env.DIALECT_TABLE !== '1') return
  console.log(
    [...tally]
      .sort((a, b) => b[1] - a[1])
      .map(([what, n]) => `${what} ${n}`)
      .join(', '),
  )
})

async function read(file: OddFile, chunk: number, answers?: Answers): Promise<FullLog | string> {
  try {
    return await readBytes(file.bytes, { timeZone: file.timeZone, chunk, ...(answers ? { answers } : {}) })
  } catch (error) {
    if (!(error instanceof TankwardError)) throw error
    expect(IMPORT_ERROR_CODES).toContain(error.code)
    return error.code
  }
}

const told = ({ report }: FullLog, code: string, column?: string) =>
  report.problems.some(
    (problem) => problem.code === code && (column === undefined || problem.column === column),
  )

/** Where the two differ by more than the last bits that a conversion leaves. */
function differs(kept: number, real: number): boolean {
  if (Number.isNaN(kept) || Number.isNaN(real)) return Number.isNaN(kept) !== Number.isNaN(real)
  return Math.abs(kept - real) > 1e-9 * Math.abs(real)
}

/** What of a log is not as it was recorded and is not said either. */
function silentlyWrong(file: OddFile, log: FullLog, isAnswered: boolean): string[] {
  const { report, trace } = log
  const wrong: string[] = []
  const codes = report.problems.map(({ code }) => code)
  const say = (what: string) => wrong.push(`${what} [${codes.join(' ')}]`)
  if (report.rowsRead !== file.rowsWritten) say(`${file.rowsWritten} rows written, ${report.rowsRead} read`)
  if (report.rowsUsed + report.rowsRejected !== report.rowsRead) say('rows do not add up')
  if (trace.timeS.length !== file.timeS.length) {
    say(`${trace.timeS.length} samples of ${file.timeS.length}`)
    return wrong
  }
  if (trace.startedAtMs === null && file.clockChangeIsOpen && !isAnswered) return wrong
  const isSpread = told(log, 'shared-stamps-spread')
  const late = file.timeS.findIndex((timeS, i) => Math.abs(trace.timeS[i] - timeS) > (isSpread ? 1 : 2e-4))
  if (late >= 0 && !told(log, 'assumed-time-unit'))
    say(`sample ${late} at ${trace.timeS[late]} s and not ${file.timeS[late]} s`)
  const { startedAtMs } = trace
  // Which pass of a repeated hour it was no answer of these tells.
  const open = ['assumed-dst', ...(isAnswered ? [] : ['assumed-day-order', 'assumed-time-unit'])]
  const isStartOpen = open.some((code) => told(log, code))
  if (startedAtMs !== null && Math.abs(startedAtMs - file.startMs) > 1 && !isStartOpen)
    say(`began ${new Date(startedAtMs).toISOString()} and not ${new Date(file.startMs).toISOString()}`)
  for (const column of file.columns) {
    const channel = trace.channels.find((one) => one.column.startsWith(column.name))
    if (!channel) {
      if (column.values.some((value) => !Number.isNaN(value))) say(`${column.name} is not used`)
      continue
    }
    if (channel.quantity !== column.quantity && !told(log, 'assumed-quantity', channel.column))
      say(`${column.name} is ${channel.quantity}`)
    if (channel.location !== column.location && !told(log, 'assumed-location', channel.column))
      say(`${column.name} at ${channel.location}`)
    if (!column.saysUnit && told(log, 'assumed-unit', channel.column)) continue
    if (!isAnswered && told(log, 'assumed-decimal-mark')) continue
    const isHeld = column.everyRows > 1 && told(log, 'slower-channel', channel.column)
    const at = column.values.findIndex(
      (value, i) => differs(channel.values[i], value) && !(isHeld && Number.isNaN(value)),
    )
    if (at >= 0) say(`${column.name}: sample ${at} is ${channel.values[at]} and not ${column.values[at]}`)
  }
  return wrong
}

it('odd files are read right, or asked about, or refused by name', async () => {
  let refused = 0
  await fc.assert(
    fc.asyncProperty(recipes, async (recipe) => {
      const file = oddFile(recipe)
      const log = await read(file, recipe.chunk)
      if (typeof log === 'string') {
        refused++
        count(log)
        return
      }
      const asked =
        log.trace.startedAtMs === null || log.report.problems.some(({ code }) => code.startsWith('assumed-'))
      count(asked ? 'asked' : 'read')
      const wrong = silentlyWrong(file, log, false)
      if (wrong.length > 0) expect.fail(`${wrong.join('\n')}\n${file.text}`)
      if (!asked) return
      const answered = await read(file, recipe.chunk, file.answers)
      if (typeof answered === 'string') expect.fail(`${answered} once answered\n${file.text}`)
      const still = silentlyWrong(file, answered, true)
      if (still.length > 0) expect.fail(`once answered: ${still.join('\n')}\n${file.text}`)
    }),
    { numRuns: FILES },
  )
  expect(refused).toBeLessThan(FILES * MOST_REFUSED)
})
