import type { Estimate } from '@/lib/contract/estimate'
import type { Finding } from '@/lib/contract/result'
import type { Ledger } from '../ledger'
import { evidenceIn, meterPerHydraulic, priced, sumOf, type YearCost } from './finding'

/** A setting this far from the nameplate has drifted (common practice, no source). */
const DRIFT_SHARE = 0.05
/** How the flow over the relief would answer to the nameplate's setting moves the cost by about this share. */
const ANSWER_SD = 0.25

/** A setting whose whole interval lies away from the nameplate's; only a higher one costs. */
export function settingDrifted(ledger: Ledger, settingBar: Estimate, year: YearCost): Finding | null {
  const nameplateBar = ledger.machine.relief.settingBar
  if (
    settingBar.low <= (1 + DRIFT_SHARE) * nameplateBar &&
    settingBar.high >= (1 - DRIFT_SHARE) * nameplateBar
  ) {
    return null
  }
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
