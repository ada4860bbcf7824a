import type { MachineModel } from '@/lib/machine/machine-model'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { opensRatioOf } from '@/lib/phases/flow-share'
import type { Step } from '@/lib/phases/stretch'
import type { MeteringDepths } from './relief-span'
import { steadySteps } from './steady-steps'

/** Levels nearer than this share of the setting are one. */
const SAME_LEVEL_SHARE = 0.003
/** A level that is there for less than this share of the longest metering's time is a transition's. */
const LEAST_TIME_SHARE = 0.1

/**
 * Depths of the metering levels below the dead-headed one where pressure alone tells them apart: no meter in the line
 * or behind the relief. Null where one is, and where no oil is metered or none dead-headed.
 */
export function meteringDepths(steps: readonly Step[], model: MachineModel): MeteringDepths | null {
  const { settingPa } = model.relief
  const steady = steadySteps(steps)
  if (steady.some(({ means }) => !Number.isNaN(means.systemFlowM3S) || !Number.isNaN(means.returnFlowM3S)))
    return null
  const pressures = (of: readonly Step[]) => of.map(({ means }) => means.pumpPressurePa)
  const durations = (of: readonly Step[]) => of.map(({ durationS }) => durationS)
  const still = steady.filter(({ kind }) => kind === 'idle-loaded' || kind === 'work-holding')
  const deadHeadPa = weightedQuantile(pressures(still), durations(still), 0.5)
  const metering = steady
    .filter(({ kind, means }) => kind === 'work-metering' && means.pumpPressurePa < deadHeadPa)
    .sort((a, b) => a.means.pumpPressurePa - b.means.pumpPressurePa)
  if (metering.length === 0) return null
  const levels: { readonly depth: number; readonly durationS: number }[] = []
  for (let first = 0; first < metering.length; ) {
    let end = first + 1
    const pressurePa = (k: number) => metering[k].means.pumpPressurePa
    while (end < metering.length && pressurePa(end) - pressurePa(end - 1) < SAME_LEVEL_SHARE * settingPa)
      end++
    const level = metering.slice(first, end)
    const middlePa = weightedQuantile(pressures(level), durations(level), 0.5)
    levels.push({
      depth: (deadHeadPa - middlePa) / settingPa,
      durationS: durations(level).reduce((sum, seconds) => sum + seconds, 0),
    })
    first = end
  }
  const longestS = Math.max(...levels.map(({ durationS }) => durationS))
  const depths = levels
    .filter(({ durationS }) => durationS >= LEAST_TIME_SHARE * longestS)
    .map(({ depth }) => depth)
  const soundDepth = (1 - opensRatioOf(model)) * (deadHeadPa / settingPa)
  return {
    sure: depths.filter((depth) => depth <= soundDepth),
    early: depths.filter((depth) => depth > soundDepth),
  }
}
