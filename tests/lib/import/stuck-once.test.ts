import { expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import { sampleBytes, sampleMachine } from '../../app/sample-files'
import { inChunks, problem } from './log-text'

it('a stuck sensor is one fault, with one code', async () => {
  const name = 'broach-early-relief'
  const machine = sampleMachine(name)
  const lines = sampleBytes(`${name}.csv`).toString('utf8').split('\n')
  const [from, to] = [1200, 1900]
  const stuck = lines.map((line, i) => (i < from || i >= to ? line : line.replace(/,[^,]*$/, ',11.07')))
  const log = await readLog(inChunks(new TextEncoder().encode(stuck.join('\n'))), {
    fileName: name,
    machine,
    timeZone: 'UTC',
  })
  expect(problem(log, 'stuck-sensor')).toMatchObject({ column: 'Motor power [kW]', count: to - from })
  const { problems } = analyse(log, machine, siteSchema.parse({})).analysis.log
  expect(problems.filter(({ code }) => /stuck/.test(code))).toMatchObject([
    { code: 'sensor-stuck', column: 'Motor power [kW]' },
  ])
})
