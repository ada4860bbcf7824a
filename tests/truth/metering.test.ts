import { afterAll, describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { simulate } from '@/app/_plant/simulate'
import { analyseCsv, type Comparison, classesRight, compare } from './against-truth'
import { METERING_DUTIES, type MeteringDuty, meteringMachine } from './metering-machines'

/**
 * Honesty where the only flow meter is at the pump's outlet and the machine meters, so that pressure alone tells how much
 * oil passes the relief: a stratum of its own beside tests/truth/coverage.test.ts. Over all machines a 95 % interval holds
 * the truth between 92 and 98 times in 100, term by term; classes of time are right on nearly all machines.
 * TRUTH_TABLE=1 prints the table.
 */
const MACHINES = 150
const DURATION_S = 420
const RATES_HZ = [5, 10, 2, 10]
const NIL_SHARE = 1e-4
const LEAST_HELD = 0.92
const MOST_HELD = 0.98
const CLASSES_RIGHT = 0.97
const MACHINES_RIGHT = 0.96

const rowsOf = new Map<string, Comparison[]>()
const classes: { readonly kind: MeteringDuty; readonly right: number }[] = []
const add = (key: string, row: Comparison) => rowsOf.set(key, [...(rowsOf.get(key) ?? []), row])
const heldShare = (rows: readonly Comparison[]) => rows.filter((row) => row.inside).length / rows.length

describe('machines that meter with a flow meter at the pump alone', () => {
  it.each(Array.from({ length: MACHINES }, (_, index) => index))('machine %i is analysed', async (index) => {
    const kind = METERING_DUTIES[index % METERING_DUTIES.length]
    const spec = meteringMachine(8000 + index, kind)
    const { recording, truth } = simulate(spec, {
      seed: 57 * index + 5,
      durationS: DURATION_S,
      rateHz: RATES_HZ[(index + Math.floor(index / METERING_DUTIES.length)) % RATES_HZ.length],
      fineHz: 50,
    })
    const csv = writeCsv(recording, 'comma-iso', '2026-08-17T06:00:00')
    const analysis = await analyseCsv(csv, 'visit.csv', machineFile(spec))
    classes.push({ kind, right: classesRight(analysis, truth) })
    const least = NIL_SHARE * truth.ledgerKWh.electricIn
    for (const row of compare(analysis, truth)) {
      if (Math.abs(row.truth) < least && Math.abs(row.got) < least) continue
      add(row.term, row)
      add(`${row.term} (${kind})`, row)
    }
  })

  it.each(['electricIn', 'motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem', 'idleElectric'])(
    '%s lies inside its interval between 92 and 98 times in 100',
    (term) => {
      const rows = rowsOf.get(term) ?? []
      expect(rows.length).toBeGreaterThanOrEqual(60)
      expect(heldShare(rows)).toBeGreaterThanOrEqual(LEAST_HELD)
      expect(heldShare(rows)).toBeLessThanOrEqual(MOST_HELD)
    },
  )

  it('off, idle and work are told apart on nearly all of them', () => {
    const right = classes.filter((one) => one.right >= CLASSES_RIGHT).length
    expect(right / classes.length).toBeGreaterThanOrEqual(MACHINES_RIGHT)
  })

  afterAll(() => {
    if (process.env.TRUTH_TABLE !== '1') return
    for (const [term, rows] of [...rowsOf].sort(([a], [b]) => a.localeCompare(b, 'en'))) {
      const inside = rows.filter((row) => row.inside).length
      const worst = Math.max(...rows.map((row) => Math.abs(row.errorPercent)))
      const share = (100 * heldShare(rows)).toFixed(1)
      console.log(
        `${term.padEnd(36)} ${inside} of ${rows.length} inside, ${share} %; worst ${worst.toFixed(2)} % of input`,
      )
    }
    for (const kind of METERING_DUTIES) {
      const of = classes.filter((one) => one.kind === kind).map(({ right }) => right)
      console.log(`${kind.padEnd(36)} classes right at least ${(100 * Math.min(...of)).toFixed(1)} %`)
    }
  })
})
