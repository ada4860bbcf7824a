import { motorsOf } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import type { Channel } from '@/lib/samples/trace'
import { fromSi, toSi } from '@/lib/units'
import { rangeOf } from './column-range'
import type { ProblemLog } from './problem-log'
import { theoreticalFlowM3S } from './pump-flow'
import { ratedCurrentA } from './rated-current'

/** Beyond this multiple of the nameplate's figure a reading is hardly true (overload is common to 1.5). */
const TOO_HIGH = 1.6
/** Below this share of it a channel never shows the machine at work. */
const TOO_LOW = 0.04

const ratedInputKW = (machine: Machine) =>
  motorsOf(machine).reduce(
    (sum, { plate, count }) => sum + (count * plate.ratedPowerKW) / (plate.ratedEfficiency ?? 1),
    0,
  )

function nameplateSi(channel: Channel, machine: Machine): number | null {
  const { motor, relief } = machine
  switch (channel.quantity) {
    case 'pressure':
      return channel.location === 'tank-line' ? null : toSi(relief.settingBar, 'bar')
    case 'flow':
      return channel.location === 'case-drain' ? null : theoreticalFlowM3S(machine)
    case 'current':
      return ratedCurrentA(machine)
    case 'power':
      return toSi(ratedInputKW(machine), 'kW')
    case 'voltage':
      return motor.ratedVoltageV
    default:
      return null
  }
}

/** Says which channels' high ends lie far from what the nameplate allows: wrong unit, range, ratio or place. */
export function reportImplausible(
  channels: readonly Channel[],
  machine: Machine,
  problems: ProblemLog,
): void {
  for (const channel of channels) {
    const rated = nameplateSi(channel, machine)
    if (rated === null) continue
    const high = rangeOf(channel.values).high
    const judged = channel.quantity === 'pressure' && channel.location === 'pump-outlet'
    if (!(high > rated * TOO_HIGH) && !(judged && high < rated * TOO_LOW)) continue
    let above = 0
    for (const value of channel.values) if (value > rated * TOO_HIGH) above++
    problems.add('implausible-range', {
      column: channel.column,
      count: Math.max(1, above),
      values: {
        high: fromSi(high, channel.unit),
        nameplate: fromSi(rated, channel.unit),
        unit: channel.unit,
        share: above / channel.values.length,
      },
    })
  }
}
