import type { PumpNameplate } from '@/lib/contract/machine'
import type { Random } from '@/lib/numeric/random'
import { M3_PER_CM3, PA_PER_BAR, RADS_PER_RPM } from '@/lib/units'

/**
 * A fixed-displacement pump as it really is. Leakage bends with pressure and thins out with the oil;
 * torque is lost to a constant drag, to shear (speed and viscosity), to friction (pressure) and to a
 * square term (pressure): on purpose not the two straight lines of the analysis.
 */
export interface TruePump {
  /** Volume per radian, m³. */
  readonly volumeM3: number
  readonly ratedPressurePa: number
  readonly ratedRadS: number
  /** Leakage at the rated point and reference oil, m³/s. */
  readonly leakM3S: number
  readonly leakExponent: number
  readonly leakViscosityExponent: number
  readonly dragNm: number
  readonly shearNm: number
  readonly frictionNm: number
  readonly squareNm: number
}

/** Oil temperature at which the maker measured the plate. */
const REFERENCE_C = 45

/** Viscosity over that at the reference temperature; about 3.2 % per kelvin for a common mineral oil (from memory). */
export function relativeViscosity(oilC: number): number {
  return Math.exp(-0.032 * (oilC - REFERENCE_C))
}

/** Leakage in m³/s at a pressure and relative viscosity. */
export function leakage(pump: TruePump, pressurePa: number, viscosity: number): number {
  const share = Math.max(0, pressurePa / pump.ratedPressurePa)
  return pump.leakM3S * share ** pump.leakExponent * viscosity ** -pump.leakViscosityExponent
}

/** Loss torque in N·m at a pressure, speed and relative viscosity. */
export function lossTorque(pump: TruePump, pressurePa: number, speedRadS: number, viscosity: number): number {
  const share = Math.max(0, pressurePa / pump.ratedPressurePa)
  const shear = pump.shearNm * (speedRadS / pump.ratedRadS) * viscosity ** 0.7
  return pump.dragNm + shear + pump.frictionNm * share + pump.squareNm * share * share
}

export interface PumpWish {
  readonly displacementCm3: number
  readonly ratedPressureBar: number
  readonly volumetricEfficiency: number
  readonly overallEfficiency: number
  /** How far this copy is from its plate: 1 as rated, 2 twice the leakage. */
  readonly wear?: number
}

/** A pump that reaches the wished efficiencies at its rated point, with a copy-to-copy spread of a few per cent of the loss. */
export function makePump(wish: PumpWish, random: Random): { pump: TruePump; nameplate: PumpNameplate } {
  const ratedSpeedRpm = 1470
  const ratedRadS = ratedSpeedRpm * RADS_PER_RPM
  const volumeM3 = (wish.displacementCm3 * M3_PER_CM3) / (2 * Math.PI)
  const ratedPressurePa = wish.ratedPressureBar * PA_PER_BAR
  const hydroMechanical = wish.overallEfficiency / wish.volumetricEfficiency
  const loss = volumeM3 * ratedPressurePa * (1 / hydroMechanical - 1)
  const copy = () => 0.95 + 0.1 * random()
  const drag = 0.13 + 0.06 * random()
  const shear = 0.16 + 0.08 * random()
  const square = 0.08 + 0.06 * random()
  return {
    pump: {
      volumeM3: volumeM3 * (0.995 + 0.01 * random()),
      ratedPressurePa,
      ratedRadS,
      leakM3S: volumeM3 * ratedRadS * (1 - wish.volumetricEfficiency) * copy() * (wish.wear ?? 1),
      leakExponent: 0.95 + 0.15 * random(),
      leakViscosityExponent: 0.3 + 0.2 * random(),
      dragNm: drag * loss * copy(),
      shearNm: shear * loss * copy(),
      frictionNm: (1 - drag - shear - square) * loss * copy(),
      squareNm: square * loss * copy(),
    },
    nameplate: {
      kind: 'fixed',
      displacementCm3: wish.displacementCm3,
      ratedPressureBar: wish.ratedPressureBar,
      ratedSpeedRpm,
      volumetricEfficiency: Number(wish.volumetricEfficiency.toFixed(2)),
      overallEfficiency: Number(wish.overallEfficiency.toFixed(3)),
    },
  }
}
