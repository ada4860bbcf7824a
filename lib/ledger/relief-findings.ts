import type { Analysis, Finding } from '@/lib/contract/result'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { basisOf, estimate } from './estimates'
import { cracksEarly } from './findings/cracks-early'
import type { YearCost } from './findings/finding'
import { hunting } from './findings/hunting'
import { leaksBelowCracking } from './findings/leaks-below-cracking'
import { leaksBeyondRelief } from './findings/leaks-beyond-relief'
import { pumpWorn } from './findings/pump-worn'
import { settingDrifted } from './findings/setting-drifted'
import type { Ledger } from './ledger'

type ReliefFit = NonNullable<Analysis['reliefFit']>

const isFinding = (finding: Finding | null): finding is Finding => finding !== null

/**
 * The relief's fitted line with its interval, and what it says about the valve: where the tank line is measured, the
 * valve's own, without the pressure behind it. Null where it was not seen open.
 */
export function reliefFit(ledger: Ledger, year: YearCost): ReliefFit | null {
  const { reliefLine, ownReliefLine: line } = ledger
  if (!reliefLine || !line) return null
  const { curve, wholeCovariance } = line
  const [settingVariance, cross, , spanVariance] = wholeCovariance
  const slopeBasis = line.slopeSeen ? basisOf(ledger, 'overRelief') : 'default'
  const perLpm = M3S_PER_LPM / curve.ratedFlowM3S / PA_PER_BAR
  const bar = (pa: number, variance: number, basis: typeof slopeBasis) =>
    estimate(pa / PA_PER_BAR, Math.sqrt(Math.max(0, variance)) / PA_PER_BAR, basis)
  const settingBar = bar(curve.settingPa, settingVariance, 'measured')
  const metBar = bar(reliefLine.curve.settingPa, reliefLine.wholeCovariance[0], 'measured')
  return {
    crackingBar: bar(curve.crackingPa, settingVariance + spanVariance - 2 * cross, slopeBasis),
    settingBar,
    ...(ledger.tankLine ? { backPressureBar: ledger.tankLine.usualPa / PA_PER_BAR } : {}),
    overrideBarPerLpm: estimate(
      (curve.settingPa - curve.crackingPa) * perLpm,
      Math.sqrt(spanVariance) * perLpm,
      slopeBasis,
    ),
    findings: [
      cracksEarly(ledger, reliefLine, year),
      leaksBelowCracking(ledger, reliefLine, year),
      settingDrifted(ledger, settingBar, metBar, year),
      hunting(ledger, reliefLine, year),
    ].filter(isFinding),
  }
}

/** What the log says of the machine beyond its relief valve. */
export function findingsBeyondRelief(ledger: Ledger, year: YearCost): Finding[] {
  return [leaksBeyondRelief(ledger, year), pumpWorn(ledger, year)].filter(isFinding)
}
