import type { ChannelDeclaration, Machine } from '@/lib/contract/machine'
import { readLog } from '@/lib/import/read-log'
import type { FullTrace } from '@/lib/samples/trace'
import { fromSi, type Unit } from '@/lib/units'

/** A trace written as a logger would, each channel in the unit asked for (its own where none is). */
export function csvOf(trace: FullTrace, units: Readonly<Record<string, Unit>> = {}) {
  const columns = trace.channels.map((channel) => ({ channel, unit: units[channel.column] ?? channel.unit }))
  const header = ['time [s]', ...columns.map(({ channel, unit }) => `${channel.column} [${unit}]`)]
  const rows = Array.from(trace.timeS, (time, i) =>
    [
      time.toFixed(3),
      // Enough digits that writing and reading moves nothing.
      ...columns.map(({ channel, unit }) => fromSi(channel.values[i], unit).toPrecision(17)),
    ].join(','),
  )
  const channels: ChannelDeclaration[] = columns.map(({ channel, unit }) => ({
    column: `${channel.column} [${unit}]`,
    quantity: channel.quantity,
    location: channel.location,
    unit,
  }))
  return { text: [header.join(','), ...rows].join('\n'), channels }
}

/** The text read as the command reads a file. */
export function readText(text: string, machine: Machine) {
  async function* bytes() {
    yield new TextEncoder().encode(text)
  }
  return readLog(bytes(), { fileName: 'hand.csv', machine, timeZone: 'UTC' })
}
