import type { ReliefNameplate } from '@/lib/contract/machine'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'

/** Relief valve characteristic: no flow up to cracking, then linear to rated flow at the setting, and on. */
export interface ReliefCurve {
  readonly crackingPa: number
  readonly settingPa: number
  readonly ratedFlowM3S: number
  /** Flow over pressure through the closed valve, m³/s per Pa. */
  readonly leakPerPa: number
  /** False where what passes for a hold may be metering: no stretch is sure to have the whole flow over the relief. */
  readonly deadHeadSeen: boolean
  /** Where the span (setting less cracking) may be off further to one side: how far over what is even. Absent: even. */
  readonly spanSkew?: { readonly below: number; readonly above: number }
}

/**
 * Cracking pressure over setting where the log cannot tell: mean and standard deviation.
 * Pilot-operated 0.90–0.98, direct-acting about 0.8: common practice (a trade text says 0.9).
 */
export const CRACK_RATIO = {
  'pilot-operated': { mean: 0.94, sd: 0.022 },
  'direct-acting': { mean: 0.8, sd: 0.045 },
} as const

/** Below this ratio a valve of the kind cracks early (contract rule). */
export const HEALTHY_CRACK_RATIO = { 'pilot-operated': 0.9, 'direct-acting': 0.7 } as const

/** The curve that the nameplate and the kind's usual cracking ratio give. */
export function nameplateCurve(plate: ReliefNameplate): ReliefCurve {
  const settingPa = plate.settingBar * PA_PER_BAR
  return {
    crackingPa: settingPa * CRACK_RATIO[plate.kind].mean,
    settingPa,
    ratedFlowM3S: plate.ratedFlowLpm * M3S_PER_LPM,
    leakPerPa: 0,
    deadHeadSeen: true,
  }
}

/** Flow over the relief at a pressure, m³/s. */
export function reliefFlowM3S(curve: ReliefCurve, pressurePa: number): number {
  const lift = (pressurePa - curve.crackingPa) / (curve.settingPa - curve.crackingPa)
  return lift > 0 ? lift * curve.ratedFlowM3S : 0
}

/** Leak of the relief at a pressure, m³/s: in proportion to it, open or not. */
export const leakM3S = (curve: ReliefCurve, pressurePa: number) => curve.leakPerPa * Math.max(0, pressurePa)

/** Pressure at which the relief passes a flow, Pa. */
export function reliefPressurePa(curve: ReliefCurve, flowM3S: number): number {
  const lift = Math.max(0, flowM3S) / curve.ratedFlowM3S
  return curve.crackingPa + lift * (curve.settingPa - curve.crackingPa)
}

/** Change of pressure with flow while the relief is open, Pa per m³/s. */
export function reliefSlope(curve: ReliefCurve): number {
  return (curve.settingPa - curve.crackingPa) / curve.ratedFlowM3S
}
