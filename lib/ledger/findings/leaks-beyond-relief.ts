import type { Finding } from '@/lib/contract/result'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { type HoldLeakage, holdLeakage } from '../hold-leakage'
import type { Ledger } from '../ledger'
import { COVERAGE } from '../propagate'
import { evidenceIn, meterPerHydraulic, priced, type YearCost } from './finding'

/** Flow into a shut system beyond this share of the pump's rated flow is more than spools let by (common practice, no source). */
const SOUND_SHARE = 0.02
const SHUT_KINDS = ['work-holding', 'idle-loaded'] as const

const lowOf = ({ flowM3S, sdM3S }: HoldLeakage) => flowM3S - COVERAGE * sdM3S

/**
 * Oil that leaves through seals and valve spools while pressure is held: only where the whole interval is beyond
 * what is usual. In a hold other valves stand open than in an idle: each is judged by itself, the one that
 * takes more energy is told.
 */
export function leaksBeyondRelief(ledger: Ledger, year: YearCost): Finding | null {
  const rated = ledger.model.pump.ratedFlowM3S
  const leaks = SHUT_KINDS.flatMap((kind) => {
    const leak = holdLeakage(ledger, kind)
    return leak && lowOf(leak) > SOUND_SHARE * rated ? [{ kind, leak }] : []
  })
  const [most] = leaks.sort((a, b) => b.leak.energyJ - a.leak.energyJ)
  if (!most) return null
  const { kind, leak } = most
  return {
    code: 'leaks-beyond-relief',
    values: {
      leakLpm: leak.flowM3S / M3S_PER_LPM,
      leakLowLpm: lowOf(leak) / M3S_PER_LPM,
      leakHighLpm: (leak.flowM3S + COVERAGE * leak.sdM3S) / M3S_PER_LPM,
      meanBar: leak.pressurePa / PA_PER_BAR,
      leakShare: leak.flowM3S / rated,
    },
    evidence: evidenceIn(ledger, leak.steps, leak.flowOf),
    checks: ['cylinder-seals', 'valve-spools', 'fixed-pump-saves-nothing-yet']
      .slice(0, ledger.model.isFixed ? 3 : 2)
      .map((code) => ({ code, values: {} })),
    ...priced(leak.energyJ * meterPerHydraulic(ledger, [kind]), leak.sdM3S / leak.flowM3S, year, 'measured'),
  }
}
