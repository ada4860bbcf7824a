import type { Estimate } from '@/lib/contract/estimate'
import type { Analysis } from '@/lib/contract/result'
import type { Ledger } from '@/lib/ledger/ledger'
import { at } from '@/lib/ledger/parameters'
import { COVERAGE } from '@/lib/ledger/propagate'
import { PA_PER_BAR } from '@/lib/units'
import { closedParts, evenPart, type Part } from './parts'

/** Parts of the intervals of the relief's fitted pressures: the pressure sensor's offset, and the fit itself. */
export function reliefParts(ledger: Ledger, { reliefFit }: Analysis): Record<string, Part[]> {
  if (!reliefFit) return {}
  const k = at('pumpPressureOffset')
  const offsetBar = (COVERAGE * Math.sqrt(ledger.covariance.get(k, k))) / PA_PER_BAR
  const pressure = (shown: Estimate) =>
    closedParts(
      [evenPart('pumpPressureOffset', Math.min(offsetBar, shown.high - shown.value))],
      shown,
      'relief-line',
    )
  return {
    'reliefFit.crackingBar': pressure(reliefFit.crackingBar),
    'reliefFit.settingBar': pressure(reliefFit.settingBar),
    'reliefFit.overrideBarPerLpm': closedParts([], reliefFit.overrideBarPerLpm, 'relief-line'),
    ...Object.fromEntries(
      reliefFit.findings.map((finding) => [
        `reliefFit.findings.${finding.code}.costPerYear`,
        closedParts([], finding.costPerYear, 'finding'),
      ]),
    ),
  }
}
