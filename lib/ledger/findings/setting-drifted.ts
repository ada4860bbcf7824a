import type { Estimate } from '@/lib/contract/estimate'
import type { Finding } from '@/lib/contract/result'
import type { Ledger } from '../ledger'
import { evidenceIn, meterPerHydraulic, priced, sumOf, type YearCost } from './finding'

/** A setting this far from the nameplate has drifted (common practice, no source). */
const DRIFT_SHARE = 0.05
/** How the flow over the relief would answer to the nameplate's setting moves the cost by about this share. */
const ANSWER_SD = 0.25

/** Which way a setting lies away from the nameplate's with its whole interval; nil where it does not. */
function driftOf({ low, high }: Estimate, nameplateBar: number): number {
  if (low > (1 + DRIFT_SHARE) * nameplateBar) return 1
  return high < (1 - DRIFT_SHARE) * nameplateBar ? -1 : 0
}

/**
 * A setting whose whole interval lies away from the nameplate's; only a higher one costs. With a measured tank line
 * both the valve's own and `metBar`, the one that the pump meets, must lie there: whether the pressure behind it
 * adds to a setting hangs on where its pilot drains, which no log tells.
 */
export function settingDrifted(
  ledger: Ledger,
  settingBar: Estimate,
  metBar: Estimate,
  year: YearCost,
): Finding | null {
  const nameplateBar = ledger.machine.relief.settingBar
  const way = driftOf(settingBar, nameplateBar)
  if (way === 0 || driftOf(metBar, nameplateBar) !== way) return null
  const driftShare = settingBar.value / nameplateBar - 1
  const passing = ledger.segmentation.steps.filter(
    ({ kind }) => kind === 'idle-loaded' || kind === 'work-holding',
  )
  const tooMuch = Math.max(0, driftShare) / (1 + driftShare)
  return {
    code: 'setting-drifted',
    values: {
      settingBar: settingBar.value,
      settingLowBar: settingBar.low,
      settingHighBar: settingBar.high,
      nameplateBar,
      driftShare,
    },
    evidence: evidenceIn(ledger, passing, ({ durationS }) => durationS),
    checks: ['knob-turned', 'gauge', 'spring'].map((code) => ({ code, values: {} })),
    ...priced(sumOf(ledger, 'overRelief') * tooMuch * meterPerHydraulic(ledger), ANSWER_SD, year),
  }
}
