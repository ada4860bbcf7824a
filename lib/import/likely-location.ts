import type { Location } from '@/lib/contract/machine'
import { rangeOf } from './column-range'

/** Pressures a tenth of the highest are lines to tank. */
const TANK_SHARE = 0.1
const UNDER_PRESSURE = 0.5
const NO_FLOW = 0.15
const OFTEN = 0.03

/** Places unlabelled pressures by their values in SI: the highest is the pump's, the next the load's. */
export function likelyPressureLocations(
  values: readonly Float64Array[],
  taken: ReadonlySet<Location>,
): Location[] {
  const means = values.map((column) => rangeOf(column))
  const order = means.map((_, i) => i).sort((a, b) => means[b].mean - means[a].mean)
  const result: Location[] = new Array<Location>(values.length)
  const highest = Math.max(...means.map((range) => range.high))
  let pump = taken.has('pump-outlet')
  for (const i of order) {
    if (!pump) {
      result[i] = 'pump-outlet'
      pump = true
    } else if (means[i].high < highest * TANK_SHARE && !taken.has('tank-line')) result[i] = 'tank-line'
    else result[i] = 'load'
  }
  return result
}

/**
 * Where a lone flow meter sits. A fixed pump's own flow never stops under pressure; a meter behind
 * the relief's branch reads nothing while the pump is dead-headed.
 */
export function likelyFlowLocation(flow: Float64Array, pressure: Float64Array | null): Location {
  if (pressure === null) return 'pump-outlet'
  const full = rangeOf(flow).high * NO_FLOW
  const high = rangeOf(pressure).high * UNDER_PRESSURE
  let under = 0
  let dead = 0
  for (let i = 0; i < flow.length; i++) {
    if (!(pressure[i] > high) || Number.isNaN(flow[i])) continue
    under++
    if (flow[i] < full) dead++
  }
  return dead > under * OFTEN ? 'system-line' : 'pump-outlet'
}
