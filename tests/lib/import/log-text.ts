import type { Machine } from '@/lib/contract/machine'
import type { Problem } from '@/lib/contract/result'
import { type ReadOptions, readLog } from '@/lib/import/read-log'
import type { FullLog, ReadLog } from '@/lib/import/report'
import { inFull } from '@/lib/samples/samples'
import { traceInFull } from '@/lib/samples/trace'
import { BALER } from '../../invented/baler'

/** Bytes in chunks of any size, as an upload brings them. */
export async function* inChunks(bytes: Uint8Array, size = 4096): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
}

export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text)
}

export async function readBytes(
  bytes: Uint8Array,
  options: Partial<ReadOptions> & { chunk?: number } = {},
): Promise<FullLog> {
  const { chunk, ...rest } = options
  const log = await readLog(inChunks(bytes, chunk), {
    fileName: 'log.csv',
    machine: null,
    timeZone: 'UTC',
    ...rest,
  })
  return { ...log, trace: traceInFull(log.trace) }
}

export function readText(
  text: string,
  options: Partial<ReadOptions> & { chunk?: number } = {},
): Promise<FullLog> {
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
  return inFull(channel.values)
}

const { noLoadCurrentA: _, ...motor } = BALER.motor

/** A machine whose plate leaves out what may be left out. */
export const MACHINE: Machine = { ...BALER, name: 'Test press', motor, unloading: { kind: 'none' } }
