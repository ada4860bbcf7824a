import type { Database } from '@/db/client'
import { saveAnalysis } from '@/db/queries/analyses'
import { deleteEnvelopeChunks, insertEnvelopeChunks } from '@/db/queries/envelope-chunks'
import { saveLogDigest } from '@/db/queries/log-digests'
import { type FilePiece, insertFilePiece } from '@/db/queries/log-files'
import { deleteLog, finishLog, type LogFacts, type LogKey } from '@/db/queries/logs'
import { saveMonthDigests } from '@/db/queries/month-digests'
import { saveMonthTotals } from '@/db/queries/month-totals'
import { deleteSampleChunks, insertSampleChunks } from '@/db/queries/sample-chunks'
import { TankwardError } from '@/lib/errors'
import { monthDigests } from '@/lib/months/month-digest'
import { STREAM_CHANNELS } from './channel-names'
import { ENGINE_VERSION } from './engine-version'
import type { Inputs } from './inputs'
import { digestOf } from './log-digest'
import { storable } from './storable'
import type { Computed, Imported, Span } from './task'

const MS_PER_S = 1000

export type SitedKey = LogKey & { readonly siteId: string }

/** When a recording began and ended; null without a date. */
export function instantsOf({ startedAtMs, durationS }: Span) {
  if (startedAtMs === null) return { startedAt: null, endedAt: null }
  return { startedAt: new Date(startedAtMs), endedAt: new Date(startedAtMs + durationS * MS_PER_S) }
}

function factsOf({ span, report, channels }: Imported): LogFacts {
  return {
    ...instantsOf(span),
    durationS: span.durationS,
    sampleIntervalS: span.sampleIntervalS,
    sampleCount: span.sampleCount,
    rowsRead: report.rowsRead,
    rowsUsed: report.rowsUsed,
    rowsRejected: report.rowsRejected,
    channels: storable(channels),
    report: storable(report),
  }
}

async function writeComputed(db: Database, key: SitedKey, computed: Computed, inputs: Inputs): Promise<void> {
  await insertSampleChunks(db, key, computed.samples)
  await insertEnvelopeChunks(db, key, computed.envelope)
  const analysis = storable(computed.analysis)
  const grounds = storable(computed.grounds)
  const evidence = storable(computed.evidence)
  await saveAnalysis(db, key, { ...inputs, engineVersion: ENGINE_VERSION, analysis, grounds, evidence })
  await saveMonthTotals(db, key, computed.months)
  await saveMonthDigests(db, key, monthDigests(computed.months))
  await saveLogDigest(db, key, digestOf(analysis))
}

/**
 * Writes an imported log in one transaction: all of it or nothing. The log that it replaces goes with it.
 * @param pieces the original file, stored as it is read; null where it is stored already (read anew)
 * @throws TankwardError `import-undone` where the log was deleted meanwhile
 */
export async function storeImported(
  db: Database,
  key: SitedKey,
  imported: Imported,
  inputs: Inputs,
  pieces: AsyncIterable<FilePiece> | null,
): Promise<void> {
  await db.transaction(async (tx) => {
    // First, so that the row is locked: whoever deletes the log now waits, and a log deleted before ends this.
    const row = await finishLog(tx, key, factsOf(imported))
    if (!row) throw new TankwardError('import-undone')
    if (pieces) for await (const piece of pieces) await insertFilePiece(tx, key, piece)
    else {
      await deleteSampleChunks(tx, key)
      await deleteEnvelopeChunks(tx, key)
    }
    await insertSampleChunks(tx, key, imported.samples)
    await insertEnvelopeChunks(tx, key, imported.envelope)
    await writeComputed(tx, key, imported.computed, inputs)
    if (row.replaces && row.replaces !== row.id)
      await deleteLog(tx, { machineId: key.machineId, logId: row.replaces })
  })
}

/** Puts a new analysis of stored samples in place of the old one, in one transaction. */
export async function storeComputed(
  db: Database,
  key: SitedKey,
  computed: Computed,
  inputs: Inputs,
): Promise<void> {
  await db.transaction(async (tx) => {
    await deleteSampleChunks(tx, key, STREAM_CHANNELS)
    await deleteEnvelopeChunks(tx, key, STREAM_CHANNELS)
    await writeComputed(tx, key, computed, inputs)
  })
}
