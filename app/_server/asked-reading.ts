import { inWorker } from '@/app/_jobs/in-worker'
import type { ReceivedFile } from '@/app/_jobs/task'
import type { Database } from '@/db/client'
import { findLayout, listLayouts } from '@/db/queries/layouts'
import type { LayoutRow } from '@/db/schema/layouts'
import type { LogReading } from '@/db/schema/logs'
import { isSameLayout } from '@/lib/contract/layout'
import { type Reading, readingSchema } from '@/lib/contract/reading'
import { ApiProblem } from './api-problem'
import { isTimeZone } from './time-zone'

/** Asked for in the place of a layout's id: the one that fits the file, if any. */
const THE_FITTING = 'fitting'
const SHOWN = 60

/** What a request says of how its file is to be read. */
export interface AskedReading {
  /** Id of a remembered layout, `fitting`, or null for none. */
  readonly layout: string | null
  /** Said for this file; goes before what is remembered. */
  readonly own: Reading
}

function badReading(path: string, expected: string, message: string): ApiProblem {
  return new ApiProblem('invalid-shape', {}, { issues: [{ path: ['reading', path], expected, message }] })
}

/** @throws ApiProblem `invalid-shape` where the logger's clock is in no known zone */
export function checkReading(reading: Reading): Reading {
  const { timeZone } = reading
  if (timeZone === undefined || isTimeZone(timeZone)) return reading
  throw badReading('timeZone', 'IANA time zone or offset', `unknown time zone "${timeZone}"`)
}

/**
 * `?layout=` and `?reading=` of a request.
 * @throws ApiProblem `bad-query` where the reading is no JSON, `invalid-shape` where it is no reading
 */
export function askedReading(request: Request): AskedReading {
  const params = new URL(request.url).searchParams
  const text = params.get('reading')
  return { layout: params.get('layout'), own: text ? checkReading(parsed(text)) : {} }
}

function parsed(text: string): Reading {
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch {
    throw new ApiProblem('bad-query', { name: 'reading', expected: 'JSON', actual: text.slice(0, SHOWN) })
  }
  const result = readingSchema.safeParse(json)
  if (result.success) return result.data
  const issues = result.error.issues.map(({ path, message, ...issue }) => ({
    ...issue,
    path: ['reading', ...path.map(String)],
    message,
  }))
  throw new ApiProblem('invalid-shape', {}, { issues })
}

async function remembered(
  db: Database,
  machineId: string,
  layout: string | null,
  file: ReceivedFile,
): Promise<LayoutRow | null> {
  if (layout === null) return null
  if (layout !== THE_FITTING) {
    const row = await findLayout(db, machineId, layout)
    if (!row) throw new ApiProblem('unknown-layout', { machine: machineId, id: layout })
    return row
  }
  const known = await listLayouts(db, machineId)
  if (known.length === 0) return null
  // What no table is has no layout; the reader says what is wrong with it.
  const survey = await inWorker({ kind: 'survey', file }).catch(() => null)
  return survey && (known.find((row) => isSameLayout(row.layout, survey.layout)) ?? null)
}

/**
 * How a received file is read: what is remembered of its layout, and over it what was said for it alone.
 * Null where nothing was said.
 * @throws ApiProblem `unknown-layout`
 */
export async function readingOf(
  db: Database,
  machineId: string,
  { layout, own }: AskedReading,
  file: ReceivedFile,
): Promise<LogReading | null> {
  const row = await remembered(db, machineId, layout, file)
  if (!row) return Object.keys(own).length > 0 ? { reading: own, remembered: null } : null
  return {
    reading: { ...row.reading, ...own },
    remembered: { id: row.id, at: row.createdAt.toISOString(), by: row.author },
  }
}
