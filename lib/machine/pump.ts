import type { PumpRating } from '@/lib/contract/machine'
import { M3_PER_CM3, PA_PER_BAR, RADS_PER_RPM } from '@/lib/units'

/** Deviations from the nameplate model, relative, each zero or absent where nothing better is known. */
export interface PumpDeviation {
  /** Relative deviation of the effective displacement. */
  readonly displacement?: number
  /** Relative deviation of the leakage coefficient. */
  readonly leakage?: number
  /** Relative deviation of the loss torque. */
  readonly lossTorque?: number
  /** Constant share of the rated loss torque, less the default 0.35. */
  readonly constantShare?: number
}

export interface PumpModel {
  /** Leakage at a pressure, m³/s (nil or positive). */
  leakageM3S(pressurePa: number): number
  /** Flow into the line at full stroke before leakage, m³/s. */
  theoreticalM3S(pressurePa: number, speedRadS: number): number
  /** Delivered flow at full stroke, m³/s. */
  flowM3S(pressurePa: number, speedRadS: number): number
  /** Shaft torque at full stroke, Nm. */
  torqueNm(pressurePa: number): number
  /** Shaft torque that no stroke of the line's pumps changes: friction, and what pumps beside the line take, Nm. */
  lossTorqueNm(pressurePa: number): number
  readonly ratedFlowM3S: number
  readonly displacementM3PerRad: number
  /** Pumps on the shaft that do not feed the line at the moment; null where all do. */
  readonly beside: BesideLine | null
  /** The same pumps in each state of those that unload by the line's pressure; null where none does. */
  readonly latch: PumpLatch | null
}

/**
 * Pumps that go to tank above a pressure of the line and come back at a lower one remember which of the two was last.
 * A state is a number with a bit for each of them, set where it feeds the line.
 */
export interface PumpLatch {
  /** By bit, Pa. */
  readonly unloadsAbovePa: readonly number[]
  /** By state: as long as it lasts, at whatever pressure. */
  readonly fixed: readonly PumpModel[]
  /** By state: until the pressure is clearly beyond what ends it. */
  readonly from: readonly PumpModel[]
}

/** Hydraulic power of pumps on the shaft that goes elsewhere than into the line, W. */
export interface BesideLine {
  /** To tank from pumps unloaded at this pressure of the line. */
  unloadedW(pressurePa: number, speedRadS: number): number
  /** Into circuits of their own at a fixed pressure. */
  ownCircuitW(speedRadS: number): number
}

/** Constant share of the rated loss torque (domain rule, a stated default). */
export const DEFAULT_CONSTANT_TORQUE_SHARE = 0.35

/**
 * Pump from its nameplate by the loss model Q = V·n − k_L·p, T = V·p/2π·(1 + k_T) + T_0 through the
 * rated point; η_v and η_hm as ISO 4391 defines them.
 */
export function pumpModel(plate: PumpRating, deviation: PumpDeviation = {}): PumpModel {
  const perRad = (plate.displacementCm3 * M3_PER_CM3) / (2 * Math.PI)
  const displacementM3PerRad = perRad * (1 + (deviation.displacement ?? 0))
  const ratedPa = plate.ratedPressureBar * PA_PER_BAR
  const theoreticalM3S = perRad * plate.ratedSpeedRpm * RADS_PER_RPM
  const leakagePerPa =
    (((1 - plate.volumetricEfficiency) * theoreticalM3S) / ratedPa) *
    Math.max(0, 1 + (deviation.leakage ?? 0))
  const hydromechanical = Math.min(1, plate.overallEfficiency / plate.volumetricEfficiency)
  const ratedLossTorque = perRad * ratedPa * (1 / hydromechanical - 1) * (1 + (deviation.lossTorque ?? 0))
  const constantShare = DEFAULT_CONSTANT_TORQUE_SHARE + (deviation.constantShare ?? 0)
  const constantTorque = ratedLossTorque * constantShare
  const torquePerPa = (ratedLossTorque * (1 - constantShare)) / ratedPa

  const leakageM3S = (pressurePa: number) => leakagePerPa * Math.max(0, pressurePa)
  const lossTorqueNm = (pressurePa: number) => constantTorque + torquePerPa * Math.max(0, pressurePa)
  return {
    leakageM3S,
    lossTorqueNm,
    theoreticalM3S: (_, speedRadS) => displacementM3PerRad * speedRadS,
    flowM3S: (pressurePa, speedRadS) => displacementM3PerRad * speedRadS - leakageM3S(pressurePa),
    torqueNm: (pressurePa) => displacementM3PerRad * Math.max(0, pressurePa) + lossTorqueNm(pressurePa),
    ratedFlowM3S: plate.volumetricEfficiency * theoreticalM3S,
    displacementM3PerRad,
    beside: null,
    latch: null,
  }
}

/** A pump of the same kind and efficiencies with this share of the displacement, in the place of all that feed the line. */
export function scaledPump(pump: PumpModel, share: number): PumpModel {
  return {
    leakageM3S: (pressurePa) => share * pump.leakageM3S(pressurePa),
    theoreticalM3S: (pressurePa, speedRadS) => share * pump.theoreticalM3S(pressurePa, speedRadS),
    flowM3S: (pressurePa, speedRadS) => share * pump.flowM3S(pressurePa, speedRadS),
    torqueNm: (pressurePa) => share * pump.torqueNm(pressurePa),
    lossTorqueNm: (pressurePa) => share * pump.lossTorqueNm(pressurePa),
    ratedFlowM3S: share * pump.ratedFlowM3S,
    displacementM3PerRad: share * pump.displacementM3PerRad,
    beside: null,
    latch: null,
  }
}

/** The pump with the leakage of another one. */
export function withLeakageOf(pump: PumpModel, other: PumpModel): PumpModel {
  return {
    ...pump,
    leakageM3S: other.leakageM3S,
    flowM3S: (pressurePa, speedRadS) =>
      pump.theoreticalM3S(pressurePa, speedRadS) - other.leakageM3S(pressurePa),
  }
}
