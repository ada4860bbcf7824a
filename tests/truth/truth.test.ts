import { existsSync, readFileSync } from 'node:fs'
import { afterAll, describe, expect, it } from 'vitest'
import { type Habit, writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import type { Visit } from '@/app/_plant/spec'
import { machineSchema } from '@/lib/contract/machine'
import { analyseCsv, type Comparison, classesRight, compare, type Truth, tableOf } from './against-truth'

/**
 * Simulated machines with known truth (issue 2): account terms within 2 % of the electric input with
 * all sensors (c), 5 % with line flow and current (a); with pump flow and current (b) the input within
 * 5 % and the split inside its stated interval; classes right 97 % of the time.
 * TRUTH_TABLE=1 prints every term.
 */
const LIMIT_PERCENT: Readonly<Record<SensorCase, number>> = { a: 5, b: 5, c: 2 }
const CLASSES_RIGHT = 0.97
const HABITS: readonly Habit[] = [
  'comma-iso',
  'semicolon-comma',
  'split-columns',
  'elapsed-seconds',
  'tab-us',
]
const MACHINES = 10

const collected: Array<{ sensors: string; rows: readonly Comparison[] }> = []
const printed: string[] = []

function keep(sensors: string, name: string, rows: readonly Comparison[], classes: number): void {
  collected.push({ sensors, rows })
  printed.push(tableOf(name, rows, classes))
}

function expectLimits(sensors: SensorCase, rows: readonly Comparison[]): void {
  const limit = LIMIT_PERCENT[sensors]
  const wrong = rows.filter(({ term, errorPercent, inside }) => {
    if (sensors === 'b' && (term === 'overRelief' || term === 'intoSystem')) return !inside
    if (sensors === 'b' && term !== 'electricIn' && term !== 'idleElectric') return false
    return Math.abs(errorPercent) > limit
  })
  expect(wrong).toEqual([])
}

const drawn = (['a', 'b', 'c'] as const).flatMap((sensors, group) =>
  Array.from({ length: MACHINES }, (_, index) => ({ sensors, seed: (group + 1) * 100 + index, index })),
)

describe.each(drawn)('random machine $seed, case ($sensors)', ({ sensors, seed, index }) => {
  const spec = randomMachine(seed, sensors)
  const visit: Visit = {
    seed: seed * 3 + 1,
    durationS: 1200,
    rateHz: index % 2 === 0 ? 10 : 5,
    lostShare: index % 3 === 0 ? 0.0005 : 0,
    gaps: index % 5 === 4 ? [{ startS: 600, endS: 660 }] : [],
  }

  it('account and classes', async () => {
    const { recording, truth } = simulate(spec, visit)
    const csv = writeCsv(recording, HABITS[index % HABITS.length], '2026-08-17T06:00:00')
    const analysis = await analyseCsv(csv, `${spec.name}.csv`, machineFile(spec))
    const rows = compare(analysis, truth)
    const classes = classesRight(analysis, truth)
    keep(sensors, `${spec.name} ${spec.unloading.kind}`, rows, classes)
    expect(classes).toBeGreaterThanOrEqual(CLASSES_RIGHT)
    expectLimits(sensors, rows)
  })
})

const KNOWN = [
  { name: 'indexing-three-sensors', sensors: 'a' },
  { name: 'stamping-all-sensors', sensors: 'c' },
] as const

describe.each(KNOWN)('known truth: $name', ({ name, sensors }) => {
  const file = (end: string) => new URL(`../../../shared/data/known-truth/${name}.${end}`, import.meta.url)
  const here = existsSync(file('csv'))

  it.runIf(here)(here ? 'account and classes' : 'skipped: data not here', async () => {
    const machine = machineSchema.parse(JSON.parse(readFileSync(file('machine.json'), 'utf8')))
    const truth = JSON.parse(readFileSync(file('truth.json'), 'utf8')) as Truth
    const analysis = await analyseCsv(readFileSync(file('csv'), 'utf8'), `${name}.csv`, machine)
    const rows = compare(analysis, truth)
    const classes = classesRight(analysis, truth)
    keep(sensors, name, rows, classes)
    expect(classes).toBeGreaterThanOrEqual(CLASSES_RIGHT)
    expectLimits(sensors, rows)
  })
})

afterAll(() => {
  if (process.env.TRUTH_TABLE !== '1') return
  console.log(printed.join('\n'))
  for (const sensors of ['a', 'b', 'c']) {
    const rows = collected.filter((one) => one.sensors === sensors).flatMap((one) => one.rows)
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
