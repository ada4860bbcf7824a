import { hasFurtherSets, hasPumpBesideLine } from '@/lib/contract/arrangement'
import type { Machine } from '@/lib/contract/machine'
import { inputOnMainsW } from '@/lib/machine/electric-side'
import { type MachineModel, machineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { readerOf } from '@/lib/samples/samples'
import type { Channel } from '@/lib/samples/trace'
import { fromSi, toSi } from '@/lib/units'
import type { ProblemLog } from './problem-log'
import { fittingUnit } from './unit-that-fits'

/** Rows that are looked at, spread over the log, and how few of them say nothing. */
const MOST_ROWS = 4000
const FEWEST_ROWS = 20
/** Share of rated input or current from which on a motor is under load. */
const LOADED = 0.3
const WELL_LOADED = 0.6
/** Readings beyond this share of the plate's are named for themselves. */
const TOO_HIGH = 1.6
/** Plates, wear and sensors together leave less than this between a reading and what it should be. */
const FAR_BELOW = 0.68
const FAR_ABOVE = 1.5
/** From this share of the relief's setting on the pump's pressure says what its motor gives. */
const UNDER_PRESSURE = 0.4
/** A loaded motor behind less pressure than this share of the setting has another load, or the pressure another unit. */
const LITTLE_PRESSURE = 0.25
/** Pressures that move less than this share of the setting from row to row are steady. */
const STEADY = 0.02

/** Ratios that have a cause: a leg of a delta, a conductor that passes twice, ranges and transformers (common practice, no source). */
const KNOWN_RATIOS: readonly (readonly [string, number])[] = [
  ['√3', Math.sqrt(3)],
  ...[2, 3, 4, 5, 10, 20, 50, 100, 1000].map((ratio) => [String(ratio), ratio] as const),
]
const NEAR_RATIO = 1.13

/** The ratio with a known cause that would bring a reading to what it should be, or null. */
function knownRatio(share: number): string | null {
  const wanted = share < 1 ? 1 / share : share
  const near = KNOWN_RATIOS.map(([name, ratio]) => ({ name, off: Math.abs(Math.log(wanted / ratio)) })).sort(
    (a, b) => a.off - b.off,
  )[0]
  if (near.off > Math.log(NEAR_RATIO)) return null
  return share < 1 ? near.name : `1/${near.name}`
}

const at = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]
const sortedCopy = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b)

interface Context {
  readonly model: MachineModel
  readonly problems: ProblemLog
  /** Every how many-th row is looked at. */
  readonly step: number
}

function ratioValues(channel: Channel, readings: readonly number[], shares: readonly number[]) {
  const share = at(sortedCopy(shares), 0.5)
  const reading = at(sortedCopy(readings), 0.5)
  const ratio = knownRatio(share)
  return {
    reading: fromSi(reading, channel.unit),
    expected: fromSi(reading / share, channel.unit),
    unit: channel.unit,
    ...(ratio === null ? {} : { ratio }),
  }
}

/** Current beside measured power: both are of one motor. True where they contradict each other. */
function comparePower(current: Channel, power: Channel, { model, problems, step }: Context): boolean {
  const { motor } = model
  const [amperes, watts] = [readerOf(current.values), readerOf(power.values)]
  const shares: number[] = []
  const readings: number[] = []
  for (let i = 0; i < power.values.length; i += step) {
    const inputW = watts.at(i)
    if (!(inputW > LOADED * motor.ratedInputW && inputW < TOO_HIGH * motor.ratedInputW)) continue
    const share = amperes.at(i) / motor.currentA(motor.shaftFromInputW(inputW))
    if (!(share > 0)) continue
    shares.push(share)
    readings.push(amperes.at(i))
  }
  if (shares.length < FEWEST_ROWS) return false
  const sorted = sortedCopy(shares)
  if (!(at(sorted, 0.9) < FAR_BELOW || at(sorted, 0.1) > FAR_ABOVE)) return false
  problems.add('current-off-power', {
    column: current.column,
    count: shares.length,
    values: { ...ratioValues(current, readings, shares), beside: power.column },
  })
  return true
}

/** Current or power beside the pressure that a fixed pump's motor works against. */
function comparePressure(electric: Channel, pump: Channel, { model, problems, step }: Context): void {
  const { motor, machine } = model
  const settingPa = toSi(machine.relief.settingBar, 'bar')
  const isCurrent = electric.quantity === 'current'
  const [pressures, inputs] = [readerOf(pump.values), readerOf(electric.values)]
  const shares: number[] = []
  const readings: number[] = []
  for (let i = 1; i < pump.values.length; i += step) {
    const pa = pressures.at(i)
    if (!(pa > UNDER_PRESSURE * settingPa && pa < TOO_HIGH * settingPa)) continue
    if (!(Math.abs(pa - pressures.at(i - 1)) < STEADY * settingPa)) continue
    const shaftW = pumpShaftW(model, pa)
    const expected = isCurrent ? motor.currentA(shaftW) : inputOnMainsW(motor, shaftW)
    const share = inputs.at(i) / expected
    if (!(share > 0)) continue
    shares.push(share)
    readings.push(inputs.at(i))
  }
  if (shares.length < FEWEST_ROWS) return
  const sorted = sortedCopy(shares)
  if (!(at(sorted, 0.9) < FAR_BELOW || at(sorted, 0.1) > FAR_ABOVE)) return
  problems.add('load-off-pressure', {
    column: electric.column,
    count: shares.length,
    values: { ...ratioValues(electric, readings, shares), beside: pump.column },
  })
}

/** Pressure that stays low while the motor of a fixed pump is well loaded. */
function compareLoad(pump: Channel, electric: Channel, { model, problems, step }: Context): boolean {
  const { motor, machine } = model
  const settingPa = toSi(machine.relief.settingBar, 'bar')
  const rated = electric.quantity === 'current' ? motor.ratedCurrentA : motor.ratedInputW
  const [pressures, inputs] = [readerOf(pump.values), readerOf(electric.values)]
  const readings: number[] = []
  let loads = 0
  for (let i = 0; i < pump.values.length; i += step) {
    const reading = inputs.at(i)
    if (!(reading > WELL_LOADED * rated && reading < TOO_HIGH * rated) || Number.isNaN(pressures.at(i)))
      continue
    readings.push(pressures.at(i))
    loads += reading
  }
  if (readings.length < FEWEST_ROWS) return false
  const highPa = at(sortedCopy(readings), 0.9)
  if (!(highPa < LITTLE_PRESSURE * settingPa)) return false
  const shaftW = pumpShaftW(model, Math.max(0, highPa))
  const expected = electric.quantity === 'current' ? motor.currentA(shaftW) : inputOnMainsW(motor, shaftW)
  if (!(loads / readings.length > FAR_ABOVE * expected)) return false
  const likely = fittingUnit('pressure', highPa, pump.unit, settingPa)
  problems.add('pressure-below-load', {
    column: pump.column,
    count: readings.length,
    values: {
      high: fromSi(highPa, pump.unit),
      unit: pump.unit,
      beside: electric.column,
      ...(likely === null ? {} : { likely }),
    },
  })
  return true
}

/**
 * Says where current, power and the pump's pressure contradict each other by more than plates, wear and sensors
 * explain: a clamp on the wrong leg, a transformer's ratio, a pressure in another unit. Figures stay as they are.
 * Judged where one motor on the mains drives one fixed pump; power and current of any one motor.
 * @param named columns that lie outside what the plate allows, and are named for it
 */
export function reportElectricDisagreement(
  channels: readonly Channel[],
  machine: Machine,
  named: ReadonlySet<string>,
  problems: ProblemLog,
): void {
  if (machine.motor.drive || hasFurtherSets(machine)) return
  const find = (quantity: Channel['quantity'], location: Channel['location']) =>
    channels.find(
      (channel) =>
        channel.quantity === quantity && channel.location === location && !named.has(channel.column),
    )
  const power = find('power', 'motor-supply')
  const current = find('current', 'motor-supply')
  const pump = find('pressure', 'pump-outlet')
  const electric = power ?? current
  if (electric === undefined) return
  const context = {
    model: machineModel(machine),
    problems,
    step: Math.max(1, Math.floor(electric.values.length / MOST_ROWS)),
  }
  if (power && current && comparePower(current, power, context)) return
  const others = (machine.furtherPumps ?? []).length + (machine.auxiliaries ?? []).length
  const isPlain = machine.pump.kind === 'fixed' && !hasPumpBesideLine(machine) && others === 0
  if (pump === undefined || !isPlain || compareLoad(pump, electric, context)) return
  comparePressure(electric, pump, context)
}
