import { ATMOSPHERE_PA } from '@/lib/units'

/** Polytropic exponents: adiabatic when fast, isothermal when slower than about three minutes. */
export const FAST_EXPONENT = 1.4
export const SLOW_EXPONENT = 1
export const SLOW_FROM_S = 180

/** Gas charge over the lowest working pressure, absolute (common practice: 0.8 to 0.9). */
export const PRECHARGE_SHARE = 0.9

const absolute = (gaugePa: number) => gaugePa + ATMOSPHERE_PA

/**
 * Volume of oil that an accumulator gives between two working pressures, m³:
 * ΔV = V0[(p0/p1)^(1/n) − (p0/p2)^(1/n)], gauge pressures in, absolute within.
 */
export function usableVolumeM3(
  gasM3: number,
  prechargePa: number,
  lowPa: number,
  highPa: number,
  exponent: number,
): number {
  const filled = (pressurePa: number) => (absolute(prechargePa) / absolute(pressurePa)) ** (1 / exponent)
  return gasM3 * (filled(lowPa) - filled(highPa))
}

/** Gas volume that gives a volume of oil between two working pressures, m³. */
export function gasVolumeM3(
  oilM3: number,
  prechargePa: number,
  lowPa: number,
  highPa: number,
  exponent: number,
): number {
  return oilM3 / usableVolumeM3(1, prechargePa, lowPa, highPa, exponent)
}

/** Pressure once `missingM3` of oil is gone from an accumulator charged to `highPa`, Pa gauge. */
export function pressureWithout(
  missingM3: number,
  gasM3: number,
  prechargePa: number,
  highPa: number,
  exponent: number,
): number {
  const chargedGas = gasM3 * (absolute(prechargePa) / absolute(highPa)) ** (1 / exponent)
  return absolute(highPa) * (chargedGas / (chargedGas + missingM3)) ** exponent - ATMOSPHERE_PA
}
