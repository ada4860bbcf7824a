import type { Machine, Quantity } from '@/lib/contract/machine'
import { fromSi } from '@/lib/units'
import type { ColumnRange } from './column-range'
import { theoreticalFlowM3S } from './pump-flow'
import { ratedCurrentA } from './rated-current'

/**
 * What columns without a name may be, by how near their high end comes to the nameplate's figures.
 * Each quantity is given once, nearest first; null where nothing comes near.
 */
export function namelessQuantities(
  ranges: readonly ColumnRange[],
  machine: Machine | null,
): (Quantity | null)[] {
  const result: (Quantity | null)[] = ranges.map(() => null)
  if (machine === null) return result
  const expected: readonly (readonly [Quantity, number])[] = [
    ['pressure', machine.relief.settingBar],
    ['flow', fromSi(theoreticalFlowM3S(machine), 'L/min')],
    ['current', ratedCurrentA(machine)],
  ]
  const near = expected
    .flatMap(([quantity, value]) =>
      ranges.map((range, i) => ({ quantity, i, distance: Math.abs(Math.log(range.high / value)) })),
    )
    .filter(({ distance }) => distance < Math.LN2)
    .sort((a, b) => a.distance - b.distance)
  const given = new Set<Quantity>()
  for (const { quantity, i } of near) {
    if (result[i] !== null || given.has(quantity)) continue
    result[i] = quantity
    given.add(quantity)
  }
  return result
}
