import { fullFlowM3S, inPumpState, type MachineModel } from '@/lib/machine/machine-model'
import { RELOAD_SHARE } from '@/lib/machine/pump-group'
import type { Doubt } from './propagate'
import type { DoubtedStep } from './pump-doubt'
import { kindIndex, TOTALS_LENGTH } from './totals'

/**
 * What the totals would be more if pressure and flow went up together while pumps of a pair change over to and fro quicker
 * than meters follow: with all of them the line takes more at a higher pressure, so the mean of the product is more than
 * the product of the means that meters give. Both lie at one of two levels, and the most by which that can differ is a
 * quarter of the product of both differences, where each level lasts half of the time. The pressure goes at least as far
 * as from where a pump comes back to where it unloads; the flow, between what one state gives and what the other does.
 * What is more into the line is less loss of the pumps, and is lost again at valves.
 */
export function toAndFroDoubt(doubted: readonly DoubtedStep[], model: MachineModel): Doubt[] {
  const { latch } = model.pump
  if (latch === null) return []
  const change = new Float64Array(TOTALS_LENGTH)
  let moreJ = 0
  for (const { step, other, isMixed } of doubted) {
    if (!isMixed) continue
    const { kind, durationS, means } = step
    const { pumpState, pumpPressurePa, speedRadS } = means
    const flowIn = (state: number) => fullFlowM3S(inPumpState(model, state), pumpPressurePa, speedRadS)
    const unloadsPa = latch.unloadsAbovePa.filter((_, bit) => ((pumpState ^ other) >> bit) & 1)
    const swingPa = (1 - RELOAD_SHARE) * Math.max(...unloadsPa)
    const moreInStepJ = (swingPa * Math.abs(flowIn(other) - flowIn(pumpState)) * durationS) / 4
    if (!(moreInStepJ > 0)) continue
    moreJ += moreInStepJ
    change[kindIndex(kind, 'intoSystem')] += moreInStepJ
    change[kindIndex(kind, 'metering')] += moreInStepJ
    change[kindIndex(kind, 'pumpLoss')] -= moreInStepJ
  }
  return moreJ > 0 ? [{ source: 'to-and-fro', change }] : []
}
