import { withLossShare } from '@/lib/machine/motor'
import { bestClass } from '@/lib/machine/motor-efficiency'
import { ratedPoint } from '@/lib/machine/motor-plate'
import { note, notJudged, type Option, refused } from '../option'
import { cycleTimeChange, reUnited } from '../serve'
import { refusedSetting } from '../settings'
import { waysOf } from '../starved'

/** A gain below this is within the rounding of a nameplate. */
const LEAST_GAIN_SHARE = 0.002

/** Motors of a class differ in where their losses arise (common practice, no source). */
const REPLAY_SHARE_SD = 0.05

const CAUTIONS = [
  note('motor-speed-rises'),
  note('motor-frame-and-protection'),
  note('lockout-stored-energy'),
  note('qualified-person'),
]

/**
 * A motor of the same rating in the highest efficiency class of the tables: losses in proportion, less slip,
 * so that pump and strokes run a little faster.
 */
export const efficientMotor: Option = {
  id: 'efficient-motor',
  plan({ machine, duty, supply, model }, given = {}) {
    const best = bestClass(machine.motor)
    const present = ratedPoint(machine.motor).plate.ratedEfficiency
    if (!best) return notJudged(note('motor-not-in-table'), { efficiencyClass: null, ratedEfficiency: null })
    const settings = { efficiencyClass: best.of, ratedEfficiency: best.efficiency }
    // Motors of different plates gain differently.
    if (machine.furtherSets?.some((set) => set.motor)) return notJudged(note('several-pumps'), settings)
    if (best.efficiency < present + LEAST_GAIN_SHARE) {
      return refused([note('motor-already-efficient', { presentEfficiency: present })], settings)
    }
    const wrong = refusedSetting(given, {})
    if (wrong) return refused([wrong], settings)
    const lossShare = (1 / best.efficiency - 1) / (1 / present - 1)
    const change = reUnited(
      (unit) => ({ ...unit, motor: withLossShare(unit.motor, lossShare) }),
      waysOf(supply, model.relief),
    )
    return {
      judged: true,
      reasons: [],
      settings,
      change,
      replayShareSd: REPLAY_SHARE_SD,
      cycleTimeChangeShare: cycleTimeChange(duty, duty.with(change)),
      cautions: CAUTIONS,
    }
  },
}
