import { Readable, Writable } from 'node:stream'
import { describe, expect, it } from 'vitest'
import { analyseLogs } from '@/app/_command/analyse-logs'
import { explanationAnswerSchema } from '@/app/_server/explanation-shape'
import { samplePath } from '../sample-files'

const LOG = samplePath('shear-pump-flow.csv')
const MACHINE = samplePath('shear-pump-flow.machine.json')

async function run(...args: string[]) {
  const written = { out: '', err: '' }
  const into = (name: keyof typeof written) =>
    new Writable({
      write(chunk, _encoding, done) {
        written[name] += String(chunk)
        done()
      },
    })
  const streams = { stdin: Readable.from([]), stdout: into('out'), stderr: into('err') }
  const code = await analyseLogs([LOG, '--machine', MACHINE, ...args], streams)
  return { code, ...written }
}

describe('--explain', () => {
  it('prints how one figure was reached in the place of the result', async () => {
    const { code, out } = await run('--explain', 'ledgerKWh.overRelief')
    expect(code).toBe(0)
    expect(explanationAnswerSchema.parse(JSON.parse(out)).figure).toBe('ledgerKWh.overRelief')
  }, 30_000)

  it('prints all of them by figure', async () => {
    const { code, out } = await run('--explain', 'all')
    expect(code).toBe(0)
    const all = Object.entries(JSON.parse(out))
    expect(all.length).toBeGreaterThan(100)
    for (const [figure, told] of all) expect(explanationAnswerSchema.parse(told).figure).toBe(figure)
  }, 30_000)

  it('names the figures there are where it does not know one', async () => {
    const { code, out, err } = await run('--explain', 'ledgerKWh.steam')
    expect({ code, out }).toEqual({ code: 1, out: '' })
    expect(err).toContain('ledgerKWh.steam')
    expect(err).toContain('ledgerKWh.overRelief')
  }, 30_000)
})
