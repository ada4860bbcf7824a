import type { Quantity } from '@/lib/contract/machine'
import { type Result, STREAMS, type Stream } from '@/lib/contract/result'
import type { Explanation } from '../figure'
import { estimate, number, percent, tick } from '../format'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'

/** `P1 [bar]: pressure, pump outlet, 0.5 % of 250 bar`, for the quantities a figure rests on. */
export function sensorsOf(result: Result, quantities: readonly Quantity[]): string[] {
  return result.log.channels
    .filter((channel) => quantities.includes(channel.quantity))
    .map((channel) => {
      const { accuracy, unit = '' } = channel
      const place = channel.location ? `, ${LOCATION_NAMES[channel.location]}` : ''
      if (channel.quantity === 'signal') return `${channel.column}: signal${place}`
      const limit = !accuracy
        ? 'accuracy not declared: 1 % of the largest reading assumed'
        : 'percentOfFullScale' in accuracy
          ? `± ${tick(accuracy.percentOfFullScale)} % of ${tick(accuracy.fullScale)} ${unit}`
          : `± ${tick(accuracy.percentOfReading)} % of reading`
      return `${channel.column}: ${QUANTITY_NAMES[channel.quantity].toLowerCase()}${place}, ${limit}`
    })
}

const ELECTRIC: readonly Quantity[] = ['power', 'current', 'voltage', 'power-factor']
const HYDRAULIC: readonly Quantity[] = ['pressure', 'flow', 'speed']

/** Formula, inputs and sensors of every figure on the machine page, from the result it belongs to. */
export function explanationsOf(result: Result): Readonly<Record<string, Explanation>> {
  const { site, idle, ledgerKWh, cycles, log } = result
  const price = site.tariff?.bands.length
    ? 'time-of-use bands of the site'
    : `${number(site.energyPricePerKWh)} ${site.currency}/kWh`
  const electric = sensorsOf(result, ELECTRIC)
  const hydraulic = sensorsOf(result, HYDRAULIC)
  return {
    electricIn: {
      formula: log.channels.some((channel) => channel.quantity === 'power')
        ? 'Sum of electric power × sample time; a sample holds until the next, never across a gap.'
        : 'Motor model (nameplate, losses and reactive power) inverted for each logged current, × sample time.',
      sensors: electric,
      note: 'Current is never multiplied by the rated power factor: unloaded, that overstates power several times.',
    },
    idleShare: {
      formula: 'Electric input while idle (loaded and unloaded) ÷ electric input',
      inputs: [
        `idle ${estimate(idle.electricKWh, 'kWh')} in ${number(idle.hours)} h`,
        `input ${estimate(ledgerKWh.electricIn, 'kWh')}`,
        ...Object.entries(idle.byLongestHoldS).map(
          ([seconds, kWh]) => `holds up to ${seconds} s: idle ${number(kWh)} kWh`,
        ),
      ],
      sensors: [...electric, ...hydraulic],
      note: 'Short idles can pass for holds, so idle energy is also given for other longest holds.',
    },
    idleCost: {
      formula: 'Idle energy per logged hour × planned hours per year × energy price',
      inputs: [
        `${number(site.plannedHoursPerYear)} planned h/yr`,
        price,
        `${estimate(idle.electricKWh, 'kWh')} idle in this log`,
      ],
      sensors: electric,
      note: 'Scaled from this log: it holds as far as the log is typical of the year.',
    },
    overRelief: {
      formula:
        'Sum of pump pressure × relief flow × sample time. Hydraulic energy, before motor and pump loss.',
      inputs: [`${percent(ledgerKWh.overRelief.value / ledgerKWh.electricIn.value)} of electric input`],
      sensors: hydraulic,
    },
    wireToWork: {
      formula: 'Work ÷ electric input, where work = load pressure × system flow',
      inputs: [
        `work ${estimate(ledgerKWh.work, 'kWh')}`,
        `into the system ${estimate(ledgerKWh.intoSystem, 'kWh')}`,
        `input ${estimate(ledgerKWh.electricIn, 'kWh')}`,
      ],
      sensors: [...hydraulic, ...electric],
      note: ledgerKWh.work
        ? undefined
        : 'Not separable without a load pressure sensor: the share into the system is shown, an upper bound.',
    },
    cycle: {
      formula: 'Electric input of whole cycles ÷ number of cycles; a cut first or last one does not count.',
      inputs: [
        `${cycles.count} cycles`,
        `mean ${number(cycles.meanS)} s`,
        `spread ${number(cycles.spreadS)} s (standard deviation)`,
      ],
      sensors: electric,
    },
  }
}

/** How each line of the account is reached: formula, and the quantities it rests on. */
const STREAM_FORMULAS: Readonly<Record<Stream, readonly [string, readonly Quantity[]]>> = {
  motorLoss: ['Electric input − shaft power', ELECTRIC],
  pumpLoss: ['Shaft power − pump pressure × pump flow (leakage and friction)', [...ELECTRIC, ...HYDRAULIC]],
  overRelief: ['Pump pressure × relief flow, outside unloaded idle', HYDRAULIC],
  unloading: ['Pump pressure × flow to tank while idle and unloaded', HYDRAULIC],
  intoSystem: ['Pump pressure × system flow', HYDRAULIC],
  metering: ['(Pump pressure − load pressure) × system flow', HYDRAULIC],
  work: ['Load pressure × system flow', HYDRAULIC],
  unaccounted: [
    'Electric input − all the lines above: what the sensors contradict',
    [...ELECTRIC, ...HYDRAULIC],
  ],
}

export interface StreamExplanation {
  readonly stream: Stream
  readonly formula: string
  readonly sensors: readonly string[]
}

/** Every line of the account with its formula and the sensors of this log behind it. */
export function streamExplanations(result: Result): StreamExplanation[] {
  return STREAMS.map((stream) => {
    const [formula, quantities] = STREAM_FORMULAS[stream]
    return { stream, formula, sensors: sensorsOf(result, quantities) }
  })
}
