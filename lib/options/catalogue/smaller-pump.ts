import { hasPumpBesideLine, lineDisplacementCm3 } from '@/lib/contract/arrangement'
import { scaledPump } from '@/lib/machine/pump'
import { note, notJudged, type Option, refused, type Tried } from '../option'
import { CYCLE_TIME_LIMIT_SHARE, cycleTimeChange, LIMIT_RANGE, reUnited } from '../serve'
import { refusedSetting, savedShareOf } from '../settings'
import { type Ways, waysDoubt, waysOf } from '../starved'

/** Sizes tried are whole multiples of this share of the present displacement. */
const SIZE_STEP = 0.05
const LEAST_SIZE_SHARE = 0.3

/** Efficiencies of another size differ a little (common practice, no source). */
const REPLAY_SHARE_SD = 0.02

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/** The pump with this share of its displacement, of the same kind and efficiencies. */
export const withPumpShare = (share: number, ways: Ways) =>
  reUnited((unit) => ({ ...unit, pump: scaledPump(unit.pump, share) }), ways)

/**
 * A pump of smaller displacement: strokes that took all its flow get longer, less flow is left over in all
 * others. The size is the one that saves most within the cycle-time limit.
 */
export const smallerPump: Option = {
  id: 'smaller-pump',
  plan({ machine, duty, rough, supply, model }, given = {}) {
    const limitShare = given.cycleTimeLimitShare ?? CYCLE_TIME_LIMIT_SHARE
    const settings = { pumpCm3: null, cycleTimeLimitShare: limitShare }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasPumpBesideLine(machine)) return notJudged(note('several-pumps'), settings)
    if (!(rough.workS > 0)) return notJudged(note('no-work-logged'), settings)
    const wholeCm3 = lineDisplacementCm3(machine)
    const wrong = refusedSetting(given, {
      pumpCm3: [LEAST_SIZE_SHARE * wholeCm3, wholeCm3],
      cycleTimeLimitShare: LIMIT_RANGE,
    })
    if (wrong) return refused([wrong], settings)
    const ways = waysOf(supply, model.relief)
    const searched: Tried[] = []
    let best: { share: number; energy: number } | null = null
    for (let steps = Math.round(1 / SIZE_STEP) - 1; steps * SIZE_STEP >= LEAST_SIZE_SHARE - 1e-9; steps--) {
      const share = steps * SIZE_STEP
      const after = rough.with(withPumpShare(share, ways))
      const feasible = cycleTimeChange(rough, after) <= limitShare
      const savedShare = savedShareOf(rough, after)
      searched.unshift({ setting: 'pumpCm3', value: share * wholeCm3, savedShare, feasible })
      if (feasible && after.electricJ < (best?.energy ?? rough.electricJ)) {
        best = { share, energy: after.electricJ }
      }
    }
    const share = given.pumpCm3 === undefined ? best?.share : given.pumpCm3 / wholeCm3
    if (share === undefined) {
      return { ...refused([note('no-smaller-pump', { limitShare })], settings), searched }
    }
    const change = withPumpShare(share, ways)
    const longer = cycleTimeChange(duty, duty.with(change))
    if (given.pumpCm3 !== undefined && longer > limitShare) {
      return {
        ...refused([note('cycle-time-beyond-limit', { share: longer, limitShare })], settings),
        searched,
      }
    }
    return {
      judged: true,
      reasons: [],
      settings: { ...settings, pumpCm3: share * wholeCm3 },
      change,
      replayShareSd: REPLAY_SHARE_SD,
      replaySd: waysDoubt(rough, ways, (other) => withPumpShare(share, other)),
      cycleTimeChangeShare: longer,
      searched,
      cautions: longer > 1e-6 ? [note('cycle-time-penalty', { share: longer }), ...CAUTIONS] : CAUTIONS,
    }
  },
}
