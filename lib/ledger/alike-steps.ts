import type { MachineModel } from '@/lib/machine/machine-model'
import { MEAN_NAMES, meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { isSteady } from './step-frame'

/** Steps of one kind with about the same readings: their time together and the time-weighted means. */
export interface AlikeSteps {
  readonly kind: Step['kind']
  readonly durationS: number
  readonly isSteady: boolean
  readonly means: StretchMeans
}

/** Readings nearer than this share of what is rated are alike. */
const ALIKE_SHARE = 0.005

/**
 * Puts steps with like readings together. What varies little from one to the next follows the parameters alike,
 * so how results answer to a parameter is asked once a group and not once a step.
 */
export function alikeSteps(steps: readonly Step[], model: MachineModel): AlikeSteps[] {
  const { motor, pump, relief } = model
  const pressureBand = ALIKE_SHARE * relief.settingPa
  const flowBand = ALIKE_SHARE * pump.ratedFlowM3S
  const bands: Readonly<Record<keyof StretchMeans, number>> = {
    pumpPressurePa: pressureBand,
    loadPressurePa: pressureBand,
    pumpFlowM3S: flowBand,
    systemFlowM3S: flowBand,
    returnFlowM3S: flowBand,
    caseDrainM3S: flowBand,
    currentA: ALIKE_SHARE * motor.ratedCurrentA,
    powerW: ALIKE_SHARE * motor.ratedInputW,
    voltageV: ALIKE_SHARE * motor.ratedVoltageV,
    speedRadS: ALIKE_SHARE * motor.synchronousRadS,
    cycleActive: Number.POSITIVE_INFINITY,
    idleSignal: Number.POSITIVE_INFINITY,
    solenoid: Number.POSITIVE_INFINITY,
  }
  const groups = new Map<string, { of: Step; isSteady: boolean; durationS: number; sums: Float64Array }>()
  for (const step of steps) {
    const steady = isSteady(step)
    let key = `${step.kind} ${steady}`
    for (const name of MEAN_NAMES) key += ` ${Math.round(step.means[name] / bands[name])}`
    let group = groups.get(key)
    if (!group) {
      group = { of: step, isSteady: steady, durationS: 0, sums: new Float64Array(MEAN_NAMES.length) }
      groups.set(key, group)
    }
    group.durationS += step.durationS
    MEAN_NAMES.forEach((name, k) => {
      group.sums[k] += step.means[name] * step.durationS
    })
  }
  return [...groups.values()].map(({ of, durationS, sums, ...group }) => ({
    kind: of.kind,
    isSteady: group.isSteady,
    durationS,
    means: durationS > 0 ? meansBy((_, k) => sums[k] / durationS) : of.means,
  }))
}
