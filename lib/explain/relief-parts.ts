import type { Estimate } from '@/lib/contract/estimate'
import type { Analysis } from '@/lib/contract/result'
import type { Ledger } from '@/lib/ledger/ledger'
import { at } from '@/lib/ledger/parameters'
import { COVERAGE } from '@/lib/ledger/propagate'
import { PA_PER_BAR } from '@/lib/units'
import { closedParts, evenPart, type Part, type PartSource } from './parts'

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
  }
}

/** Parts of the intervals of findings and of the pump's efficiencies, each as a whole. */
export function findingParts({ findings, reliefFit, pumpHealth }: Analysis): Record<string, Part[]> {
  const whole = (path: string, shown: Estimate, source: PartSource) =>
    [path, closedParts([], shown, source)] as const
  const of = (start: string, list: Analysis['findings']) =>
    list.flatMap(({ code, kWhInLog, costPerYear }) => [
      whole(`${start}.${code}.kWhInLog`, kWhInLog, 'finding'),
      whole(`${start}.${code}.costPerYear`, costPerYear, 'finding'),
    ])
  return Object.fromEntries([
    ...of('findings', findings),
    ...of('reliefFit.findings', reliefFit?.findings ?? []),
    ...pumpHealth.volumetricEfficiency.map(({ seen }, k) =>
      whole(`pumpHealth.volumetricEfficiency.${k}.seen`, seen, 'pump-fit'),
    ),
    ...pumpHealth.efficiencyPlane.map(({ efficiency }, k) =>
      whole(`pumpHealth.efficiencyPlane.${k}.efficiency`, efficiency, 'pump-fit'),
    ),
  ])
}
