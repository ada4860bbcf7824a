import { motorsOf } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { readerOf } from '@/lib/samples/samples'
import type { Channel } from '@/lib/samples/trace'
import { fromSi, toSi } from '@/lib/units'
import { rangeOf } from './column-range'
import type { ProblemLog } from './problem-log'
import { theoreticalFlowM3S } from './pump-flow'
import { ratedCurrentA } from './rated-current'
import { fittingUnit } from './unit-that-fits'

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

/** Ratios by which a clamp's range or a current transformer is wrong (common practice, no source). */
const RATIOS = [5, 10, 20, 50, 100, 1000]
/** Below this share of what the oil alone takes a reading of current or power is not that of the motor. */
const FAR_BELOW = 0.4
/** From this share of the relief's setting on the pump's pressure says what the motor gives at least. */
const UNDER_LOAD = 0.4
/** Current of a loaded motor is near its share of rated output, never far below. */
const CURRENT_PER_SHARE = 0.8

/** The least that current or power reaches where a fixed pump reaches its highest pressure; null where nothing tells. */
function leastUnderLoad(channel: Channel, channels: readonly Channel[], machine: Machine): number | null {
  if (machine.pump.kind !== 'fixed') return null
  const pump = channels.find(
    ({ quantity, location }) => quantity === 'pressure' && location === 'pump-outlet',
  )
  const settingPa = toSi(machine.relief.settingBar, 'bar')
  const highPa = pump === undefined ? 0 : rangeOf(pump.values).high
  if (!(highPa > UNDER_LOAD * settingPa && highPa < TOO_HIGH * settingPa)) return null
  const oilW = highPa * theoreticalFlowM3S(machine)
  if (channel.quantity === 'power') return oilW
  const ratedW = motorsOf(machine).reduce(
    (sum, { plate, count }) => sum + toSi(count * plate.ratedPowerKW, 'kW'),
    0,
  )
  return channel.quantity === 'current' ? CURRENT_PER_SHARE * (oilW / ratedW) * ratedCurrentA(machine) : null
}

/** The one ratio by which a reading would lie between what the oil takes and what the plate allows, or null. */
function ratioThatFits(high: number, least: number | null, rated: number): number | null {
  const from = least ?? rated / 3
  const both = [...RATIOS, ...RATIOS.map((ratio) => 1 / ratio)]
  const fitting = both.filter(
    (ratio) => high * ratio > from * CURRENT_PER_SHARE && high * ratio < rated * TOO_HIGH,
  )
  return fitting.length === 1 ? fitting[0] : null
}

/** A relief lets no more than this multiple of its setting stand at the pump, drift and override included. */
const ABOVE_RELIEF = 1.35
/** Speed and meters included a pump gives no more than this multiple of displacement × rated speed … */
const ABOVE_PUMP = 1.25
/** … and a fixed one that turns never so little, worn as it may be. */
const BELOW_PUMP = 0.4

/** Beyond which multiple of the nameplate's figure a reading is hardly true. */
function highestShare({ quantity, location }: Channel, machine: Machine): number {
  if (quantity === 'pressure' && location === 'pump-outlet') return ABOVE_RELIEF
  return quantity === 'flow' && location === 'pump-outlet' && !machine.motor.drive ? ABOVE_PUMP : TOO_HIGH
}

/** True where a channel's high end is so low that it never shows the machine at work. */
function isFarBelow(
  channel: Channel,
  machine: Machine,
  high: number,
  rated: number,
  least: number | null,
): boolean {
  if (least !== null && high < least * FAR_BELOW) return true
  if (channel.location !== 'pump-outlet') return false
  if (channel.quantity === 'pressure') return high < rated * TOO_LOW
  const { motor, pump, furtherPumps = [], furtherSets = [] } = machine
  const isOneFixed = pump.kind === 'fixed' && !motor.drive && furtherPumps.length + furtherSets.length === 0
  return isOneFixed && channel.quantity === 'flow' && high > 0 && high < rated * BELOW_PUMP
}

/**
 * Says which channels' high ends lie far from what the nameplate allows: wrong unit, range, ratio or place.
 * @returns the columns that were named
 */
export function reportImplausible(
  channels: readonly Channel[],
  machine: Machine,
  problems: ProblemLog,
): Set<string> {
  const named = new Set<string>()
  for (const channel of channels) {
    const rated = nameplateSi(channel, machine)
    if (rated === null) continue
    const high = rangeOf(channel.values).high
    const least = leastUnderLoad(channel, channels, machine)
    const most = rated * highestShare(channel, machine)
    if (!(high > most) && !isFarBelow(channel, machine, high, rated, least)) continue
    named.add(channel.column)
    const isElectric = channel.quantity === 'current' || channel.quantity === 'power'
    const ratio = isElectric ? ratioThatFits(high, least, rated) : null
    const likely =
      channel.quantity === 'current' ? null : fittingUnit(channel.quantity, high, channel.unit, rated)
    let above = 0
    const readings = readerOf(channel.values)
    for (let i = 0; i < readings.length; i++) if (readings.at(i) > most) above++
    problems.add('implausible-range', {
      column: channel.column,
      count: Math.max(1, above),
      values: {
        high: fromSi(high, channel.unit),
        nameplate: fromSi(rated, channel.unit),
        unit: channel.unit,
        share: above / channel.values.length,
        ...(likely === null ? {} : { likely }),
        ...(ratio === null || likely !== null
          ? {}
          : { ratio: ratio < 1 ? `1/${Math.round(1 / ratio)}` : String(ratio) }),
      },
    })
  }
  return named
}

/** Share of rated current or input below which the motor stands. */
const STANDS = 0.03
const FEWEST_AT_REST = 20
/** A pressure this share of the setting off nil at rest is no sensor's usual offset … */
const OFF_ZERO = 0.02
/** … and up to this one no load that is held. */
const MOST_OFF_ZERO = 0.1
/** It stands still, or it is oil that runs off. */
const STILL = 0.01

/** Says what the pump's pressure reads while the motor stands, where that is steady and not nil. */
export function reportZeroAtRest(channels: readonly Channel[], machine: Machine, problems: ProblemLog): void {
  const pump = channels.find(
    ({ quantity, location }) => quantity === 'pressure' && location === 'pump-outlet',
  )
  const electric = channels.find(({ quantity }) => quantity === 'power' || quantity === 'current')
  if (pump === undefined || electric === undefined) return
  const rated = nameplateSi(electric, machine)
  if (rated === null) return
  const [pressures, inputs] = [readerOf(pump.values), readerOf(electric.values)]
  const resting: number[] = []
  for (let i = 1; i < pressures.length; i++) {
    if (!(Math.abs(inputs.at(i)) < STANDS * rated && inputs.at(i - 1) < STANDS * rated)) continue
    const pressurePa = pressures.at(i)
    if (!Number.isNaN(pressurePa)) resting.push(pressurePa)
  }
  const atRest = Float64Array.from(resting)
  if (atRest.length < FEWEST_AT_REST) return
  const settingPa = toSi(machine.relief.settingBar, 'bar')
  const { low, middle, high } = rangeOf(atRest)
  const off = Math.abs(middle) / settingPa
  if (off < OFF_ZERO || off > MOST_OFF_ZERO || high - low > 2 * STILL * settingPa) return
  problems.add('pressure-off-zero-at-rest', {
    column: pump.column,
    count: atRest.length,
    values: { reading: fromSi(middle, pump.unit), unit: pump.unit },
  })
}
