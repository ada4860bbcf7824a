import type { Location } from '@/lib/contract/machine'
import { type ChannelSamples, readerOf } from '@/lib/samples/samples'
import { rangeOf } from './column-range'

/** Pressures a tenth of the highest are lines to tank. */
const TANK_SHARE = 0.1
const UNDER_PRESSURE = 0.5
const NO_FLOW = 0.15
const OFTEN = 0.03
/** A motor that turns draws more than this share of its highest current. */
const RUNNING = 0.2

/** Places unlabelled pressures by their values in SI: the highest is the pump's, the next the load's. */
export function likelyPressureLocations(
  values: readonly ChannelSamples[],
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
 * Where an unlabelled flow meter sits. A fixed pump's own flow never stops under pressure nor while
 * its motor turns; a meter behind the relief's branch reads nothing while the pump is dead-headed or
 * its relief vented. `current` is null where none is logged or the pump can stop its flow by itself.
 */
export function likelyFlowLocation(
  flow: ChannelSamples,
  pressure: ChannelSamples | null,
  current: ChannelSamples | null,
): Location {
  if (pressure !== null && readsNothing(flow, pressure, UNDER_PRESSURE)) return 'system-line'
  return current !== null && readsNothing(flow, current, RUNNING) ? 'system-line' : 'pump-outlet'
}

/** True where the meter often reads nothing while the witness is above a share of its high end. */
function readsNothing(flow: ChannelSamples, witness: ChannelSamples, share: number): boolean {
  const full = rangeOf(flow).high * NO_FLOW
  const high = rangeOf(witness).high * share
  const [flows, witnessed] = [readerOf(flow), readerOf(witness)]
  let under = 0
  let dead = 0
  for (let i = 0; i < flows.length; i++) {
    const here = flows.at(i)
    if (!(witnessed.at(i) > high) || Number.isNaN(here)) continue
    under++
    if (here < full) dead++
  }
  return dead > under * OFTEN
}
