import { afterAll, describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import { scattered } from '@/app/_plant/scatter'
import { simulate } from '@/app/_plant/simulate'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import type { Figure } from '@/lib/months/figures'
import { type LogMonth, logMonths } from '@/lib/months/log-month'
import { monthReach, weightsOf } from '@/lib/months/month-intervals'
import { rollUp } from '@/lib/months/rollup'
import { type CountedTotals, summarise } from '@/lib/months/summary'

/**
 * Months of simulated machines whose parts differ from their plates, three visits each, every sensor off anew at each:
 * the measured sum's 95 % interval holds the truth about 95 times in 100. TRUTH_TABLE=1 prints the table.
 */
const MACHINES = 30
const VISITS = 3
const DURATION_S = 240
const CASES: readonly SensorCase[] = ['c', 'a', 'b']
/** Of 30 months at 95 %, 25 or fewer are inside once in 70 times for one figure (binomial). */
const LEAST_HELD = 25 / 30

const site = siteSchema.parse({})
const held = new Map<Figure, boolean[]>()

describe('the measured part of months of three visits', () => {
  it.each(Array.from({ length: MACHINES }, (_, index) => index))('machine %i', async (index) => {
    const spec = scattered(randomMachine(8200 + index, CASES[index % CASES.length]), index + 5)
    const machine = machineFile(spec)
    const rows: CountedTotals[] = []
    const logs: LogMonth[] = []
    const truth = { electric: 0, idle: 0 }
    for (let visit = 0; visit < VISITS; visit++) {
      const seed = 911 * index + 17 * visit + 3
      const simulated = simulate(spec, { seed, durationS: DURATION_S, rateHz: 5, fineHz: 50 })
      truth.electric += simulated.truth.ledgerKWh.electricIn
      truth.idle += simulated.truth.ledgerKWh.idleElectric
      const csv = writeCsv(simulated.recording, 'comma-iso', `2026-08-${17 + visit}T06:00:00`)
      async function* bytes() {
        yield new TextEncoder().encode(csv)
      }
      const log = await readLog(bytes(), { fileName: 'visit.csv', machine, timeZone: 'UTC' })
      const analysed = analyse(log, machine, site)
      rows.push(...rollUp(log, analysed, site))
      logs.push(...logMonths(log, analysed, site))
    }
    const summary = summarise(rows, logs)
    for (const figure of ['electric', 'idle'] as const) {
      const value = summary.kinds.reduce(
        (sum, kind) => sum + (kind.kWh[figure === 'electric' ? 0 : 1] ?? 0),
        0,
      )
      const limits = { plannedHours: 100, plannedHoursLimitShare: 0 }
      const { below, above } = monthReach(summary, weightsOf(figure), limits).measured
      const inside = value - below <= truth[figure] && truth[figure] <= value + above
      held.set(figure, [...(held.get(figure) ?? []), inside])
    }
    expect(summary.logs).toBe(VISITS)
    expect(summary.daySpread.days).toBe(VISITS)
  })

  it.each(['electric', 'idle'] as const)('%s lies inside its interval', (figure) => {
    const months = held.get(figure) ?? []
    expect(months).toHaveLength(MACHINES)
    expect(months.filter(Boolean).length / MACHINES).toBeGreaterThanOrEqual(LEAST_HELD)
  })

  afterAll(() => {
    if (process.env.TRUTH_TABLE !== '1') return
    for (const [figure, months] of held)
      console.log(`${figure.padEnd(10)} ${months.filter(Boolean).length} of ${months.length} months inside`)
  })
})
