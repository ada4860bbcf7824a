import { ratedPowerKW } from '@/lib/contract/arrangement'
import type { Machine, Quantity } from '@/lib/contract/machine'
import { toSi, type Unit } from '@/lib/units'
import type { ColumnRange } from './column-range'
import { theoreticalFlowM3S } from './pump-flow'
import { UNITS_OF } from './unit-of'

/** High values of a common hydraulic power unit, where no nameplate is at hand (common practice). */
const USUAL_SI: Partial<Record<Quantity, number>> = {
  pressure: toSi(160, 'bar'),
  flow: toSi(80, 'L/min'),
  power: toSi(18, 'kW'),
  temperature: 45,
}

function expectedSi(quantity: Quantity, machine: Machine | null): number | null {
  if (machine !== null) {
    if (quantity === 'pressure') return toSi(machine.relief.settingBar, 'bar')
    if (quantity === 'power') return toSi(ratedPowerKW(machine), 'kW')
    if (quantity === 'flow') return theoreticalFlowM3S(machine)
  }
  return USUAL_SI[quantity] ?? null
}

export interface LikelyUnit {
  readonly unit: Unit
  readonly other: Unit | null
}

/** The unit under which the values' high end comes nearest to what the machine can reach. */
export function likelyUnit(quantity: Quantity, range: ColumnRange, machine: Machine | null): LikelyUnit {
  const units = UNITS_OF[quantity]
  const expected = expectedSi(quantity, machine)
  if (expected === null || units.length === 1 || !(range.high > 0)) {
    return { unit: units[0], other: units[1] ?? null }
  }
  const ranked = units
    .map((unit) => ({ unit, distance: Math.abs(Math.log(toSi(range.high, unit) / expected)) }))
    .filter(({ distance }) => Number.isFinite(distance))
    .sort((a, b) => a.distance - b.distance)
  const best = ranked[0] ?? { unit: units[0], distance: 0 }
  // The metric unit stands unless another fits clearly better.
  const metric = ranked.find(({ unit }) => unit === units[0])
  if (metric !== undefined && metric.distance < best.distance + 0.7) {
    return { unit: metric.unit, other: ranked.find(({ unit }) => unit !== metric.unit)?.unit ?? null }
  }
  return { unit: best.unit, other: ranked[1]?.unit ?? null }
}
