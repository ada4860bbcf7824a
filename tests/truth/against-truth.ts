import { analyse } from '@/lib/analyse'
import type { Machine } from '@/lib/contract/machine'
import type { Analysis, PhaseClass, PhaseKind } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'

export const TERMS = [
  'electricIn',
  'motorLoss',
  'pumpLoss',
  'overRelief',
  'unloading',
  'intoSystem',
  'metering',
  'work',
] as const
export type Term = (typeof TERMS)[number]

/** What really happened, in the shape of the known-truth files. */
export interface Truth {
  readonly ledgerKWh: Readonly<Record<Term | 'idleElectric', number>>
  readonly phases: ReadonlyArray<{ readonly kind: PhaseKind; readonly startS: number; readonly endS: number }>
  readonly savings?: Readonly<Record<string, { readonly savedShare: number }>>
}

export interface Comparison {
  readonly term: Term | 'idleElectric'
  readonly got: number
  readonly truth: number
  /** (got − truth) in per cent of the true electric input. */
  readonly errorPercent: number
  readonly inside: boolean
}

const CLASS: Readonly<Record<PhaseKind, PhaseClass>> = {
  stopped: 'off',
  starting: 'off',
  'idle-unloaded': 'idle',
  'idle-loaded': 'idle',
  'work-moving': 'work',
  'work-metering': 'work',
  'work-holding': 'work',
}

/** A CSV analysed as the command does it: bytes in, result out. */
export async function analyseCsv(csv: string, fileName: string, machine: Machine): Promise<Analysis> {
  async function* bytes() {
    yield new TextEncoder().encode(csv)
  }
  const log = await readLog(bytes(), { fileName, machine, timeZone: 'UTC' })
  return analyse(log, machine, siteSchema.parse({})).analysis
}

/** Each term of the account against the truth; terms the sensors cannot separate are left out. */
export function compare(analysis: Analysis, truth: Truth): Comparison[] {
  const input = truth.ledgerKWh.electricIn
  const rows: Comparison[] = []
  const put = (term: Comparison['term'], estimate: { value: number; low: number; high: number } | null) => {
    if (!estimate) return
    const real = truth.ledgerKWh[term]
    const slack = 1e-6 * input
    rows.push({
      term,
      got: estimate.value,
      truth: real,
      errorPercent: (100 * (estimate.value - real)) / input,
      inside: real >= estimate.low - slack && real <= estimate.high + slack,
    })
  }
  for (const term of TERMS) put(term, analysis.ledgerKWh[term])
  put('idleElectric', analysis.idle.electricKWh)
  return rows
}

/** Share of the true running time whose class (off, idle, work) the analysis has right. */
export function classesRight(analysis: Pick<Analysis, 'phases'>, truth: Pick<Truth, 'phases'>): number {
  let right = 0
  let total = 0
  let at = 0
  for (const phase of truth.phases) {
    total += phase.endS - phase.startS
    while (at < analysis.phases.length && analysis.phases[at].endS <= phase.startS) at += 1
    for (let i = at; i < analysis.phases.length && analysis.phases[i].startS < phase.endS; i += 1) {
      const found = analysis.phases[i]
      const overlap = Math.min(found.endS, phase.endS) - Math.max(found.startS, phase.startS)
      if (CLASS[found.kind] === CLASS[phase.kind]) right += Math.max(0, overlap)
    }
  }
  return right / total
}

/** The comparison as lines of a table. */
export function tableOf(name: string, rows: readonly Comparison[], classes: number): string {
  const lines = rows.map(({ term, got, truth, errorPercent, inside }) =>
    [
      name.padEnd(26),
      term.padEnd(13),
      got.toFixed(4).padStart(9),
      truth.toFixed(4).padStart(9),
      `${errorPercent.toFixed(2)} %`.padStart(9),
      inside ? 'inside' : 'OUTSIDE',
    ].join(' '),
  )
  return [...lines, `${name.padEnd(26)} classes right ${(100 * classes).toFixed(2)} %`].join('\n')
}
