import type { Finding, PhaseKind } from '@/lib/contract/result'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { holdLeakage } from '../hold-leakage'
import type { Ledger } from '../ledger'
import { COVERAGE } from '../propagate'
import { evidenceIn, meterPerHydraulic, priced, type YearCost } from './finding'

/** Flow into a shut system beyond this share of the pump's rated flow is more than spools let by (common practice, no source). */
const SOUND_SHARE = 0.02
const SHUT_KINDS: readonly PhaseKind[] = ['work-holding', 'idle-loaded']

/** Oil that leaves through seals and valve spools while pressure is held: only where the whole interval is beyond what is usual. */
export function leaksBeyondRelief(ledger: Ledger, year: YearCost): Finding | null {
  const leak = holdLeakage(ledger)
  if (!leak) return null
  const lowM3S = leak.flowM3S - COVERAGE * leak.sdM3S
  if (!(lowM3S > SOUND_SHARE * ledger.model.pump.ratedFlowM3S)) return null
  return {
    code: 'leaks-beyond-relief',
    values: {
      leakLpm: leak.flowM3S / M3S_PER_LPM,
      leakLowLpm: lowM3S / M3S_PER_LPM,
      leakHighLpm: (leak.flowM3S + COVERAGE * leak.sdM3S) / M3S_PER_LPM,
      meanBar: leak.pressurePa / PA_PER_BAR,
      leakShare: leak.flowM3S / ledger.model.pump.ratedFlowM3S,
    },
    evidence: evidenceIn(ledger, leak.steps, leak.flowOf),
    checks: ['cylinder-seals', 'valve-spools', 'fixed-pump-saves-nothing-yet']
      .slice(0, ledger.model.isFixed ? 3 : 2)
      .map((code) => ({ code, values: {} })),
    ...priced(
      leak.energyJ * meterPerHydraulic(ledger, SHUT_KINDS),
      leak.sdM3S / leak.flowM3S,
      year,
      'measured',
    ),
  }
}
