import { describe, expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import type { Machine } from '@/lib/contract/machine'
import { siteSchema } from '@/lib/contract/site'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { inFull } from '@/lib/samples/samples'
import { csvOf, readText } from './hand-csv'
import { HOLD, IDLE, METER, MOVE, OFF } from './hand-duty'
import { HAND_MACHINE, handInputKW } from './hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from './hand-trace'

/**
 * Laws of cells without a reading: with some of the channels silent over a quarter of the log, every figure that is given
 * at all is a number, the parts still add up, and with the pressure known, the input of the whole log is within the
 * interval. They need no source.
 */
const site = siteSchema.parse({})
const CYCLE: readonly Piece[] = [IDLE, MOVE, HOLD, METER]
const COMPENSATED: Machine = {
  ...HAND_MACHINE,
  pump: { ...HAND_MACHINE.pump, kind: 'pressure-compensated' },
  relief: { ...HAND_MACHINE.relief, settingBar: 190 },
}
/** Dead-headed at the compensator's pressure on 4 kW; a stroke of all the flow takes what a fixed pump does. */
const STANDBY: Piece = { seconds: 20, bar: 160, loadBar: 0, returnLpm: 0, kW: handInputKW(4) }
const STROKE: Piece = { ...MOVE, returnLpm: 0 }

interface Case {
  readonly name: string
  readonly machine: Machine
  readonly duty: readonly Piece[]
  readonly fitted: readonly MeterName[]
}
const fixed = (...fitted: MeterName[]): Case => ({
  name: `fixed pump, ${fitted.join(', ')}`,
  machine: HAND_MACHINE,
  duty: [OFF, ...repeat(CYCLE, 8)],
  fitted,
})
const CASES: readonly Case[] = [
  fixed('power'),
  fixed('pumpFlow', 'current'),
  fixed('systemFlow', 'current'),
  fixed('returnFlow', 'power'),
  fixed('loadPressure', 'pumpFlow', 'current'),
  {
    name: 'compensated pump, returnFlow, power',
    machine: COMPENSATED,
    duty: repeat([STANDBY, STROKE], 12),
    fitted: ['returnFlow', 'power'],
  },
]

/** Every subset of one or two of the names. */
const upToTwo = (names: readonly string[]) =>
  names.flatMap((one, k) => [[one], ...names.slice(k + 1).map((other) => [one, other])])

/** Paths of numbers that are none. */
function notNumbers(value: unknown, path: string): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path]
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return []
  return Object.entries(value).flatMap(([key, of]) => notNumbers(of, `${path}.${key}`))
}

async function analysedWithout({ machine: plain, duty, fitted }: Case, silent: readonly string[]) {
  const whole = handTrace(duty, { fitted, noise: 0.002, seed: 3 })
  const { text, channels } = csvOf(whole)
  const machine = { ...plain, channels }
  const log = await readText(text, machine)
  const [from, to] = [0.5, 0.75].map((share) => Math.round(share * log.trace.timeS.length))
  const trace = {
    ...log.trace,
    channels: log.trace.channels.map((channel) => {
      const name = channel.column.replace(/ \[.*/, '')
      const values = silent.includes(name)
        ? inFull(channel.values).slice().fill(Number.NaN, from, to)
        : channel.values
      return { ...channel, values }
    }),
  }
  return analyse({ ...log, trace }, machine, site).analysis
}

describe.each(CASES)('$name', (of) => {
  const names = ['pumpPressure', ...of.fitted]
  it.each(upToTwo(names).map((silent) => ({ silent })))(
    'without a quarter of $silent',
    async ({ silent }) => {
      const whole = await analysedWithout(of, [])
      const analysis = await analysedWithout(of, silent)
      expect(notNumbers(analysis, '')).toEqual([])
      const { electricIn, metering: _, work: __, ...parts } = analysis.ledgerKWh
      const sum = Object.values(parts).reduce((kWh, part) => kWh + (part?.value ?? 0), 0)
      expect(sum).toBeCloseTo(electricIn?.value ?? Number.NaN, 9)
      if (silent.includes('pumpPressure')) return
      expect(electricIn?.low).toBeLessThan(whole.ledgerKWh.electricIn?.value ?? Number.NaN)
      expect(electricIn?.high).toBeGreaterThan(whole.ledgerKWh.electricIn?.value ?? Number.NaN)
    },
  )
})

describe('a compensated pump whose flow no meter reads', () => {
  const of = CASES[CASES.length - 1]

  it('has the input of like phases where the power meter is silent, says so, and is less sure', async () => {
    const whole = await analysedWithout(of, [])
    const analysis = await analysedWithout(of, ['power'])
    const problem = analysis.log.problems.find(({ code }) => code === 'input-from-alike')
    // Dead-headed, the model knows its flow: nil.
    expect(problem?.values?.seconds).toBeCloseTo(0.25 * 12 * STROKE.seconds, 0)
    const half = ({ low, high }: { low: number; high: number }) => (high - low) / 2
    const [before, now] = [whole, analysis].map(({ ledgerKWh }) => ledgerKWh.electricIn)
    expect(now && before && half(now) > half(before)).toBe(true)
    expect(now?.value).toBeCloseTo(before?.value ?? Number.NaN, 1)
  })

  it('has as wide an interval with a power meter that lags by seconds as with a quick one', () => {
    const trace = handTrace(of.duty, { fitted: ['power'], noise: 0.002, seed: 4 })
    const lagS = 1.5
    const lagging = (values: Float64Array) => {
      let shown = values[0]
      return values.map((value) => (shown += (1 - Math.exp(-0.1 / lagS)) * (value - shown)))
    }
    const slow = {
      ...trace,
      channels: trace.channels.map((channel) =>
        channel.quantity === 'power' ? { ...channel, values: lagging(channel.values) } : channel,
      ),
    }
    const [quick, late] = [trace, slow].map((one) => {
      const ledger = accountFor(one, of.machine)
      return { isSlow: ledger.segmentation.slow.length > 0, electricIn: ledgerKWh(ledger).electricIn }
    })
    expect([quick.isSlow, late.isSlow]).toEqual([false, true])
    const half = (one: typeof quick) => ((one.electricIn?.high ?? 0) - (one.electricIn?.low ?? 0)) / 2
    expect(half(late) / half(quick)).toBeGreaterThan(0.9)
    expect(late.electricIn?.value).toBeCloseTo(quick.electricIn?.value ?? Number.NaN, 2)
  })
})
