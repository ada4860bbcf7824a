import { at, leakageShare } from '@/lib/ledger/parameters'
import { COVERAGE } from '@/lib/ledger/propagate'
import { machineModel } from '@/lib/machine/machine-model'
import { withLeakageOf } from '@/lib/machine/pump'
import { note, type Option, refused } from '../option'
import { cycleTimeChange, reUnited } from '../serve'
import { refusedSetting } from '../settings'
import { waysOf } from '../starved'

/**
 * Leakage beyond the nameplate's by less than this share is no wear: copies and oil differ by as much
 * (common practice, no source).
 */
const COPY_SPREAD_SHARE = 0.1

/** How much of the leakage is wear and how much the oil moves the result by about this share of the input. */
const REPLAY_SD = 0.004

const CAUTIONS = [note('lockout-stored-energy'), note('hot-oil'), note('qualified-person')]

/** The pump's leakage back to the nameplate's, where the whole interval of what the log shows lies above it. */
export const restorePump: Option = {
  id: 'restore-pump',
  plan({ ledger, duty, supply, model }, given = {}) {
    const [wear, leak] = [at('leakage'), at('reliefLeak')]
    const { values, covariance } = ledger
    // One meter cannot tell a worn pump from a leaking relief: judged as the pump's, the first thing to confirm.
    const leakVariance = covariance.get(leak, leak)
    const shared = leakVariance > 0 ? covariance.get(wear, leak) ** 2 / leakVariance : 0
    const sd = Math.sqrt(Math.max(0, covariance.get(wear, wear) - shared))
    const settings = { leakageShareOfNameplate: 1 + leakageShare(values[wear]) }
    if (leakageShare(values[wear] - COVERAGE * sd) <= COPY_SPREAD_SHARE)
      return refused([note('pump-not-worn')], settings)
    const wrong = refusedSetting(given, {})
    if (wrong) return refused([wrong], settings)
    const asNew = machineModel(ledger.machine).pump
    const change = reUnited(
      (unit, { pump: { latch } }) => {
        const state = latch ? latch.from.indexOf(unit.pump) : -1
        return { ...unit, pump: withLeakageOf(unit.pump, asNew.latch?.from[state] ?? asNew) }
      },
      waysOf(supply, model.relief),
    )
    return {
      judged: true,
      reasons: [],
      settings,
      change,
      replaySd: REPLAY_SD,
      cycleTimeChangeShare: cycleTimeChange(duty, duty.with(change)),
      cautions: CAUTIONS,
    }
  },
}
