import type { MachineModel } from '@/lib/machine/machine-model'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { isLevel, LEVEL_STRETCH_S, opensRatioOf, type SystemShare } from './flow-share'
import type { Stretch } from './stretch'
import { widestGap } from './widest-gap'

/** A load-sensing pump stands by within this share above the lowest level it runs at, and well below its setting. */
const STANDBY_SPREAD = 1.25
/** A level this much above the last one is another. */
const NEXT_LEVEL = 1.02
const HIGHEST_STANDBY_SHARE = 0.25
/** A flow that only the electric input shows is a flow above this share. */
const STANDBY_SHARE = 0.5
const METERED_STANDBY_SHARE = 0.1

export const isLoadSensing = ({ machine }: MachineModel) => machine.pump.kind === 'load-sensing'

const isMetered = ({ means }: Stretch) =>
  !Number.isNaN(means.pumpFlowM3S) || !Number.isNaN(means.systemFlowM3S)

/**
 * From this share of full flow on a pump does not stand by, however low its pressure: any where a meter tells,
 * half where power does. Near no load a current tells nothing.
 */
export function standbyShareOf(stretch: Stretch): number {
  if (isMetered(stretch)) return METERED_STANDBY_SHARE
  return Number.isNaN(stretch.means.powerW) ? Number.POSITIVE_INFINITY : STANDBY_SHARE
}

/** Pressure below which a load-sensing pump stands by, Pa; nil for other pumps or where it is not told. */
export function standbyOf(model: MachineModel, stretches: readonly Stretch[], share: SystemShare): number {
  if (!isLoadSensing(model)) return 0
  const running = stretches.filter((stretch) => {
    const { means, durationS } = stretch
    const turns = !(
      means.powerW < 0.5 * model.motor.noLoadInputW || means.currentA < 0.5 * model.motor.noLoadCurrentA
    )
    return turns && durationS >= LEVEL_STRETCH_S && !(share(stretch) > standbyShareOf(stretch))
  })
  const lowest = weightedQuantile(
    running.map((s) => s.means.pumpPressurePa),
    running.map((s) => s.durationS),
    0.05,
  )
  if (!(lowest < HIGHEST_STANDBY_SHARE * model.relief.settingPa)) return 0
  // Its own level recurs exactly; the next one belongs to a light load.
  const levels = running.map((s) => s.means.pumpPressurePa).sort((a, b) => a - b)
  let highest = lowest
  for (const level of levels) {
    if (level > STANDBY_SPREAD * highest) break
    if (level > NEXT_LEVEL * highest) return (highest + level) / 2
    highest = Math.max(highest, level)
  }
  return STANDBY_SPREAD * lowest
}

/** A share found in the log, or the usual one where none of its stretches lies near. */
export interface ShareLevel {
  readonly value: number
  readonly isSeen: boolean
}

function shareLevel(shares: readonly number[], low: number, high: number, usual: number): ShareLevel {
  const seen = widestGap(shares, low, high)
  return { value: seen ?? usual, isSeen: seen !== null }
}

/** Without a meter the pump's flow follows from its input: the shares below and above which none and all moves lie wider apart. */
export function shareLevels(
  model: MachineModel,
  stretches: readonly Stretch[],
  share: SystemShare,
  { deadHeadPa, standbyPa }: Record<'deadHeadPa' | 'standbyPa', number>,
): { readonly noFlow: ShareLevel; readonly fullFlow: ShareLevel } {
  const above = (pressurePa: number) =>
    stretches.filter((s) => s.means.pumpPressurePa > pressurePa && isLevel(s)).map(share)
  const high = above(0.5 * deadHeadPa)
  if (!isLoadSensing(model)) {
    const opens = above(opensRatioOf(model) * deadHeadPa)
    return {
      noFlow: shareLevel(high, 0.03, 0.15, 0.07),
      fullFlow: shareLevel(opens, 0.9, 0.98, 0.95),
    }
  }
  // What stands by is told by its pressure: near no load its input shows any share.
  const all = above(standbyPa)
  const metered = stretches.some(isMetered)
  return {
    noFlow: metered ? shareLevel(all, 0.03, 0.15, 0.07) : shareLevel(all, 0.03, 0.3, 0.12),
    fullFlow: shareLevel(all, 0.8, 0.98, 0.93),
  }
}
