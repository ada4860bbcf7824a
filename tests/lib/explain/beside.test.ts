import { createReadStream } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { type Analysed, analyse } from '@/lib/analyse'
import { machineSchema } from '@/lib/contract/machine'
import { siteSchema } from '@/lib/contract/site'
import { explain, figuresOf } from '@/lib/explain/explain'
import { unpackParts } from '@/lib/explain/pack-parts'
import { reachOfParts } from '@/lib/explain/parts'
import { readLog } from '@/lib/import/read-log'
import { sampleMachine, samplePath } from '../../app/sample-files'

const NAME = 'press-all-sensors'
const site = siteSchema.parse({})

/** The sample, its motor's feeder said to carry a cooler and a control, and its shaft a pilot pump. */
describe('what the account holds apart', () => {
  let all: Analysed
  let plain: Analysed
  beforeAll(async () => {
    const machine = sampleMachine(NAME)
    const more = machineSchema.parse({
      ...machine,
      auxiliaries: [
        { name: 'Cooler', powerKW: 1.5, when: 'motor-running', accuracyPercent: 20 },
        { name: 'Control', powerKW: 0.2 },
      ],
      furtherPumps: [{ ...machine.pump, displacementCm3: 8, outlet: { pressureBar: 30 } }],
    })
    const log = await readLog(createReadStream(samplePath(`${NAME}.csv`)), {
      fileName: NAME,
      machine,
      timeZone: site.timeZone,
    })
    all = analyse(log, more, site)
    plain = analyse(log, machine, site)
  }, 60_000)
  const of = (figure: string) => explain(figure, all.analysis, all.grounds)

  it('is explained where a machine has it, and only there', () => {
    for (const figure of ['auxiliariesKWh', 'ownCircuitsKWh']) {
      expect(figuresOf(all.analysis, all.grounds)).toContain(figure)
      expect(figuresOf(plain.analysis, plain.grounds)).not.toContain(figure)
      expect(explain(figure, plain.analysis, plain.grounds)).toBeNull()
    }
  })

  it('works auxiliaries out of the inputs it names', () => {
    const told = of('auxiliariesKWh')
    const value = (symbol: string) => Number(told?.inputs.find((one) => one.symbol === symbol)?.value)
    expect(value('auxiliaryPower')).toBe(0.2)
    expect(value('companionPower')).toBe(1.5)
    const kWh = value('auxiliaryPower') * value('loggedTime') + value('companionPower') * value('runningTime')
    expect(kWh / (told?.value ?? 0)).toBeCloseTo(1, 9)
    expect(told?.intervalParts.map(({ source }) => source)).toEqual(['auxiliaries'])
    expect(told?.narrowing?.code).toBe('meter-auxiliaries')
  })

  it('adds the parts of a circuit of its own up to its interval', () => {
    const { value, low, high } = all.analysis.ownCircuitsKWh ?? { value: 0, low: 0, high: 0 }
    const { below, above } = reachOfParts(unpackParts(all.grounds.parts.ownCircuitsKWh ?? []))
    expect(below / (value - low)).toBeCloseTo(1, 3)
    expect(above / (high - value)).toBeCloseTo(1, 3)
    expect(of('ownCircuitsKWh')?.intervalParts.map(({ source }) => source)).toContain('unseen-pumps')
  })

  it('tells how auxiliaries widen the input as a part of its own', () => {
    const sources = (analysed: Analysed) =>
      explain('ledgerKWh.electricIn', analysed.analysis, analysed.grounds)?.intervalParts.map(
        ({ source }) => source,
      )
    expect(sources(all)).toContain('auxiliaries')
    expect(sources(plain)).not.toContain('auxiliaries')
  })
})
