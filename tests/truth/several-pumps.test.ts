import { afterAll, describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { simulate } from '@/app/_plant/simulate'
import type { Visit } from '@/app/_plant/spec'
import { analyseCsv, type Comparison, classesRight, compare, tableOf } from './against-truth'
import { ARRANGEMENTS, type Arrangement, severalMachine } from './several-machines'

/**
 * Simulated units with more than one pump, motor or consumer behind the meter, and known truth: account terms within
 * 2 % of the electric input with all sensors (c), 5 % with line flow and current (a), as for single pumps.
 * TRUTH_TABLE=1 prints every term.
 */
const LIMIT_PERCENT = { a: 5, c: 2 } as const
const CLASSES_RIGHT = 0.97
const VISIT = { durationS: 600, rateHz: 10, fineHz: 50 }
/** More of them in a table than in every run. */
const SEEDS = process.env.TRUTH_TABLE === '1' ? [41, 42, 43, 44, 45] : [41]

const drawn = (Object.keys(ARRANGEMENTS) as Arrangement[]).flatMap((kind) =>
  (['a', 'c'] as const).flatMap((sensors) => SEEDS.map((seed) => ({ kind, sensors, seed }))),
)
const printed: string[] = []
const collected: { sensors: string; row: Comparison }[] = []

describe.each(drawn)('$kind, case ($sensors), seed $seed', ({ kind, sensors, seed }) => {
  const spec = severalMachine(kind, seed, sensors)
  const visit: Visit = { ...VISIT, seed: seed * 5 + 2 }

  it('account and classes', async () => {
    const { recording, truth, besideKWh } = simulate(spec, visit)
    const csv = writeCsv(recording, 'comma-iso', '2026-08-17T06:00:00')
    const analysis = await analyseCsv(csv, `${spec.name}.csv`, machineFile(spec))
    const rows = compare(analysis, truth)
    const classes = classesRight(analysis, truth)
    printed.push(tableOf(spec.name, rows, classes))
    collected.push(...rows.map((row) => ({ sensors, row })))
    const limit = LIMIT_PERCENT[sensors]
    expect(rows.filter(({ errorPercent }) => Math.abs(errorPercent) > limit)).toEqual([])
    expect(classes).toBeGreaterThanOrEqual(CLASSES_RIGHT)

    const { auxiliariesKWh, ownCircuitsKWh } = analysis
    expect(auxiliariesKWh === null).toBe(!spec.auxiliaries)
    if (auxiliariesKWh) {
      // Declared figures hold their limit 95 times in 100.
      const limitKWh = 1.5 * (auxiliariesKWh.high - auxiliariesKWh.value)
      expect(Math.abs(besideKWh.auxiliaries - auxiliariesKWh.value)).toBeLessThan(limitKWh)
    }
    expect(ownCircuitsKWh === null).toBe(kind !== 'pilot pump')
    if (ownCircuitsKWh) {
      expect(besideKWh.ownCircuits).toBeGreaterThan(ownCircuitsKWh.low)
      expect(besideKWh.ownCircuits).toBeLessThan(ownCircuitsKWh.high)
    }
  })
})

afterAll(() => {
  if (process.env.TRUTH_TABLE !== '1') return
  console.log(printed.join('\n'))
  for (const sensors of ['a', 'c']) {
    const rows = collected.filter((one) => one.sensors === sensors).map(({ row }) => row)
    for (const term of new Set(rows.map((row) => row.term))) {
      const of = rows.filter((row) => row.term === term)
      const inside = of.filter((row) => row.inside).length
      const worst = Math.max(...of.map((row) => Math.abs(row.errorPercent)))
      console.log(
        `(${sensors}) ${term}: ${inside} of ${of.length} inside, worst ${worst.toFixed(2)} % of input`,
      )
    }
  }
})
