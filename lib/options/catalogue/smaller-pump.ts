import { hasPumpBesideLine, lineDisplacementCm3 } from '@/lib/contract/arrangement'
import { scaledPump } from '@/lib/machine/pump'
import { note, notJudged, type Option, refused } from '../option'
import { CYCLE_TIME_LIMIT_SHARE, cycleTimeChange, reUnited } from '../serve'

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
export const withPumpShare = (share: number) =>
  reUnited((unit) => ({ ...unit, pump: scaledPump(unit.pump, share) }))

/**
 * A pump of smaller displacement: strokes that took all its flow get longer, less flow is left over in all
 * others. The size is the one that saves most within the cycle-time limit.
 */
export const smallerPump: Option = {
  id: 'smaller-pump',
  plan({ machine, supply, points, model, energyJ }) {
    const settings = { pumpCm3: null, cycleTimeLimitShare: CYCLE_TIME_LIMIT_SHARE }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasPumpBesideLine(machine)) return notJudged(note('several-pumps'), settings)
    if (!points.some((step) => step.kind.startsWith('work'))) {
      return notJudged(note('no-work-logged'), settings)
    }
    let best: { share: number; energy: number } | null = null
    const nowJ = energyJ(points)
    for (let steps = Math.round(1 / SIZE_STEP) - 1; steps * SIZE_STEP >= LEAST_SIZE_SHARE - 1e-9; steps--) {
      const share = steps * SIZE_STEP
      const after = withPumpShare(share)(points, model)
      if (cycleTimeChange(points, after) > CYCLE_TIME_LIMIT_SHARE) break
      const energy = energyJ(after)
      if (energy < (best?.energy ?? nowJ)) best = { share, energy }
    }
    if (!best) return refused([note('no-smaller-pump', { limitShare: CYCLE_TIME_LIMIT_SHARE })], settings)
    const change = withPumpShare(best.share)
    const longer = cycleTimeChange(supply, change(supply, model))
    return {
      judged: true,
      reasons: [],
      settings: { ...settings, pumpCm3: best.share * lineDisplacementCm3(machine) },
      change,
      replayShareSd: REPLAY_SHARE_SD,
      cycleTimeChangeShare: longer,
      cautions: longer > 1e-6 ? [note('cycle-time-penalty', { share: longer }), ...CAUTIONS] : CAUTIONS,
    }
  },
}
