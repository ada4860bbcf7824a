import { expect, it } from 'vitest'
import { readLog } from '@/lib/import/read-log'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { sampleBytes, sampleMachine } from '../../app/sample-files'
import { inChunks } from './log-text'

// Against the same recording with every reading in it, and against what the simulated machine really did.

const EVERY = 5

/** The log with its flow in every fifth row only. */
function thinned(text: string): string {
  let row = 0
  return text
    .split('\n')
    .map((line) => {
      const cells = line.split(';')
      if (cells.length !== 4 || !/^\d/.test(line)) return line
      return row++ % EVERY === 0 ? line : [cells[0], cells[1], '', cells[3]].join(';')
    })
    .join('\n')
}

it('a flow logged five times less often gives the account that all of its readings give', async () => {
  const name = 'baler-line-flow'
  const machine = sampleMachine(name)
  const accountOf = async (text: string) => {
    const source = inChunks(new TextEncoder().encode(text))
    const log = await readLog(source, { fileName: name, machine, timeZone: 'UTC' })
    return { ledger: ledgerKWh(accountFor(log.trace, machine)), report: log.report }
  }
  const text = sampleBytes(`${name}.csv`).toString('utf8')
  const truth = JSON.parse(sampleBytes(`${name}.truth.json`).toString('utf8')).ledgerKWh
  const { ledger: whole } = await accountOf(text)
  const { ledger: thin, report } = await accountOf(thinned(text))
  expect(report.problems.some(({ code }) => code === 'slower-channel')).toBe(true)
  for (const term of ['electricIn', 'overRelief', 'intoSystem', 'pumpLoss'] as const) {
    const error = (value: number) => Math.abs(value - truth[term]) / truth.electricIn
    expect(error(thin[term]?.value ?? Number.NaN), term).toBeLessThan(error(whole[term]?.value ?? 0) + 0.01)
  }
})
