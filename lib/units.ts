/**
 * Unit conversions: the only place where numbers such as 600, 3600 or 1714 come from.
 * SI inside (Pa, m³/s, W, J, s, A, V, rad/s, °C); other units only at the edges.
 * Sources: 1 psi = 6894.757293168 Pa, 1 US gal = 3.785411784 L (exact), 1 hp = 745.6998716 W
 * (550 ft·lbf/s), ISO 80000-3/-4 for bar, litre, minute.
 */
export const PA_PER_BAR = 1e5
export const PA_PER_PSI = 6894.757293168
export const M3S_PER_LPM = 1e-3 / 60
export const M3S_PER_GPM = 3.785411784e-3 / 60
export const W_PER_KW = 1e3
export const W_PER_HP = 745.6998716
export const J_PER_KWH = 3.6e6
export const S_PER_MINUTE = 60
export const S_PER_HOUR = 3600
export const MONTHS_PER_YEAR = 12
export const M3_PER_CM3 = 1e-6
export const RADS_PER_RPM = (2 * Math.PI) / 60
/** Absolute pressure of the standard atmosphere in Pa, added to gauge pressures in gas laws. */
export const ATMOSPHERE_PA = 101_325

export const UNITS = [
  'bar',
  'kPa',
  'MPa',
  'psi',
  'L/min',
  'gpm',
  'm³/h',
  'A',
  'V',
  'kW',
  'W',
  'hp',
  'rpm',
  '°C',
  '°F',
  '1',
] as const
export type Unit = (typeof UNITS)[number]

interface Linear {
  readonly factor: number
  readonly offset: number
}

/** SI value = value · factor + offset. */
const TO_SI: Record<Unit, Linear> = {
  bar: { factor: PA_PER_BAR, offset: 0 },
  kPa: { factor: 1e3, offset: 0 },
  MPa: { factor: 1e6, offset: 0 },
  psi: { factor: PA_PER_PSI, offset: 0 },
  'L/min': { factor: M3S_PER_LPM, offset: 0 },
  gpm: { factor: M3S_PER_GPM, offset: 0 },
  'm³/h': { factor: 1 / S_PER_HOUR, offset: 0 },
  A: { factor: 1, offset: 0 },
  V: { factor: 1, offset: 0 },
  kW: { factor: W_PER_KW, offset: 0 },
  W: { factor: 1, offset: 0 },
  hp: { factor: W_PER_HP, offset: 0 },
  rpm: { factor: RADS_PER_RPM, offset: 0 },
  '°C': { factor: 1, offset: 0 },
  '°F': { factor: 5 / 9, offset: -160 / 9 },
  '1': { factor: 1, offset: 0 },
}

/** Factor and offset that turn a value in `unit` into SI (temperatures into °C). */
export function siOf(unit: Unit): Linear {
  return TO_SI[unit]
}

/** A value in `unit` as SI (temperatures as °C). */
export function toSi(value: number, unit: Unit): number {
  const { factor, offset } = TO_SI[unit]
  return value * factor + offset
}

/** An SI value (temperatures in °C) in `unit`. */
export function fromSi(value: number, unit: Unit): number {
  const { factor, offset } = TO_SI[unit]
  return (value - offset) / factor
}
