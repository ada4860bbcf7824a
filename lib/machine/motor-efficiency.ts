import type { EfficiencyClass, MotorSize } from '@/lib/contract/machine'
import { W_PER_HP, W_PER_KW } from '@/lib/units'

const KW_50HZ = [
  0.75, 1.1, 1.5, 2.2, 3, 4, 5.5, 7.5, 11, 15, 18.5, 22, 30, 37, 45, 55, 75, 90, 110, 132, 160, 200,
]

/** IEC 60034-30-1, nominal efficiency in %, four poles, 50 Hz (values as quoted in the project's check values). */
const AT_50HZ: Readonly<Record<EfficiencyClass, readonly number[]>> = {
  IE1: [
    72.1, 75.0, 77.2, 79.7, 81.5, 83.1, 84.7, 86.0, 87.6, 88.7, 89.3, 89.9, 90.7, 91.2, 91.7, 92.1, 92.7,
    93.0, 93.3, 93.5, 93.8, 94.0,
  ],
  IE2: [
    79.6, 81.4, 82.8, 84.3, 85.5, 86.6, 87.7, 88.7, 89.8, 90.6, 91.2, 91.6, 92.3, 92.7, 93.1, 93.5, 94.0,
    94.2, 94.5, 94.7, 94.9, 95.1,
  ],
  IE3: [
    82.5, 84.1, 85.3, 86.7, 87.7, 88.6, 89.6, 90.4, 91.4, 92.1, 92.6, 93.0, 93.6, 93.9, 94.2, 94.6, 95.0,
    95.2, 95.4, 95.6, 95.8, 96.0,
  ],
  IE4: [
    85.7, 87.2, 88.2, 89.5, 90.4, 91.1, 91.9, 92.6, 93.3, 93.9, 94.2, 94.5, 94.9, 95.2, 95.4, 95.7, 96.0,
    96.1, 96.3, 96.4, 96.6, 96.7,
  ],
}

/** Premium efficiency (IE3) in %, four poles, 60 Hz: to 10 hp 10 CFR 431.25, the rest from memory of the same table. */
const HP_60HZ = [1, 1.5, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200]
const IE3_60HZ = [
  85.5, 86.5, 86.5, 89.5, 89.5, 91.7, 91.7, 92.4, 93.0, 93.6, 93.6, 94.1, 94.5, 95.0, 95.4, 95.4, 95.4, 95.8,
  96.2,
]

/** How far beyond the ends of a table a size still belongs to it. */
const SIZE_TOLERANCE = 1.02

/** Value at a size, linear in the logarithm of size between the table's; null beyond the table. */
function atSize(sizes: readonly number[], values: readonly number[], size: number): number | null {
  const last = sizes.length - 1
  if (size < sizes[0] / SIZE_TOLERANCE || size > sizes[last] * SIZE_TOLERANCE) return null
  const at = Math.min(Math.max(size, sizes[0]), sizes[last])
  const high = Math.max(
    1,
    sizes.findIndex((one) => one >= at),
  )
  const part = Math.log(at / sizes[high - 1]) / Math.log(sizes[high] / sizes[high - 1])
  return values[high - 1] + part * (values[high] - values[high - 1])
}

/** Nominal efficiency (a share) of a class at a motor's rating, or null where no table here covers it. */
export function nominalEfficiency(of: EfficiencyClass, plate: MotorSize): number | null {
  if (plate.poles !== 4) return null
  const ratedHp = (plate.ratedPowerKW * W_PER_KW) / W_PER_HP
  const percent =
    plate.frequencyHz === 50
      ? atSize(KW_50HZ, AT_50HZ[of], plate.ratedPowerKW)
      : plate.frequencyHz === 60 && of === 'IE3'
        ? atSize(HP_60HZ, IE3_60HZ, ratedHp)
        : null
  return percent === null ? null : percent / 100
}

/**
 * Efficiency (a share) to take for a motor of a class where no table here covers it: that of four poles at 50 Hz
 * and the nearest size in the table. Other poles and 60 Hz differ by one or two points (common practice, no source).
 */
export function usualEfficiency(of: EfficiencyClass, plate: MotorSize): number {
  const ratedPowerKW = Math.min(Math.max(plate.ratedPowerKW, KW_50HZ[0]), KW_50HZ[KW_50HZ.length - 1])
  const inTable = nominalEfficiency(of, { ratedPowerKW, poles: 4, frequencyHz: 50 })
  return nominalEfficiency(of, plate) ?? inTable ?? Number.NaN
}

/** The highest class a table here knows at a motor's rating, with its efficiency; null where none covers it. */
export function bestClass(plate: MotorSize): { of: EfficiencyClass; efficiency: number } | null {
  for (const name of ['IE4', 'IE3'] as const) {
    const efficiency = nominalEfficiency(name, plate)
    if (efficiency !== null) return { of: name, efficiency }
  }
  return null
}
