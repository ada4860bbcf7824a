import type { Machine } from '@/lib/contract/machine'
import type { Problem } from '@/lib/contract/result'
import { type ReadOptions, readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'

/** Bytes in chunks of any size, as an upload brings them. */
export async function* inChunks(bytes: Uint8Array, size = 4096): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
}

export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text)
}

export function readBytes(
  bytes: Uint8Array,
  options: Partial<ReadOptions> & { chunk?: number } = {},
): Promise<ReadLog> {
  const { chunk, ...rest } = options
  return readLog(inChunks(bytes, chunk), { fileName: 'log.csv', machine: null, timeZone: 'UTC', ...rest })
}

export function readText(
  text: string,
  options: Partial<ReadOptions> & { chunk?: number } = {},
): Promise<ReadLog> {
  return readBytes(utf8(text), options)
}

export function problem(log: ReadLog, code: string, column?: string): Problem | undefined {
  return log.report.problems.find((p) => p.code === code && (column === undefined || p.column === column))
}

export function startOf(log: ReadLog): string | null {
  return log.trace.startedAtMs === null ? null : new Date(log.trace.startedAtMs).toISOString()
}

/** A channel's values back in the unit it was logged in. */
export function valuesOf(log: ReadLog, column: string): Float64Array {
  const channel = log.trace.channels.find((candidate) => candidate.column === column)
  if (channel === undefined) throw new Error(`no channel ${column}`)
  return channel.values
}

/** An invented machine: 22 kW, 160 bar. */
export const MACHINE: Machine = {
  version: 1,
  name: 'Test press',
  motor: {
    ratedPowerKW: 22,
    ratedVoltageV: 400,
    ratedCurrentA: 40.2,
    ratedPowerFactor: 0.86,
    ratedEfficiency: 0.92,
    ratedSpeedRpm: 1467,
    poles: 4,
    frequencyHz: 50,
  },
  pump: {
    kind: 'fixed',
    displacementCm3: 60,
    ratedPressureBar: 160,
    ratedSpeedRpm: 1470,
    volumetricEfficiency: 0.93,
    overallEfficiency: 0.856,
  },
  relief: { kind: 'pilot-operated', settingBar: 160, ratedFlowLpm: 85 },
  unloading: { kind: 'none' },
}
