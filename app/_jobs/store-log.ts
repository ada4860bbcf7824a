import { setImmediate as nextTurn } from 'node:timers/promises'
import type { Database } from '@/db/client'
import { findComputingInputs, saveAnalysis } from '@/db/queries/analyses'
import { deleteEnvelopeChunks, insertEnvelopeChunks } from '@/db/queries/envelope-chunks'
import { saveLogDigest } from '@/db/queries/log-digests'
import { endReplaying, finishLog, type LogFacts, type LogKey } from '@/db/queries/logs'
import { listMonthsOfLog, saveLogMonths } from '@/db/queries/machine-months'
import { saveMonthDigests } from '@/db/queries/month-digests'
import { saveMonthTotals } from '@/db/queries/month-totals'
import { deleteSampleChunks, insertSampleChunks } from '@/db/queries/sample-chunks'
import { countStaged, type StagedCounts } from '@/db/queries/staged-rows'
import type { LogRow } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import { monthDigests } from '@/lib/months/month-digest'
import { STREAM_CHANNELS } from './channel-names'
import { ENGINE_VERSION } from './engine-version'
import type { Inputs } from './inputs'
import { digestOf } from './log-digest'
import { refreshMachineMonths, removeLog } from './machine-months'
import { storable } from './storable'
import type { Computed, Imported, Rows, Span } from './task'

const MS_PER_S = 1000

// Within a transaction the embedded database answers nobody else; the turns between its parts are for what needs none.

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

/**
 * Stands for the inputs of an analysis without options and without the account over time, which come together: no
 * set-up's fingerprint, so it is stale until it has them.
 */
const WITHOUT_OPTIONS = 'without-options'

/** Whether the account over time of a stored log is there as a whole. */
export const hasAccountSeries = async (db: Database, key: LogKey): Promise<boolean> =>
  (await findComputingInputs(db, key)) !== WITHOUT_OPTIONS

async function writeAnalysis(db: Database, key: SitedKey, computed: Computed, inputs: Inputs): Promise<void> {
  await nextTurn()
  const analysis = storable(computed.analysis)
  const grounds = storable(computed.grounds)
  const evidence = storable(computed.evidence)
  await nextTurn()
  await saveAnalysis(db, key, { ...inputs, engineVersion: ENGINE_VERSION, analysis, grounds, evidence })
}

/** The digest holds what an option would save: lists show a log from when it is known. */
const writeDigest = (db: Database, key: SitedKey, { analysis }: Computed) =>
  saveLogDigest(db, key, digestOf(storable(analysis)))

async function writeMonths(db: Database, key: SitedKey, computed: Computed): Promise<void> {
  await nextTurn()
  const months = await listMonthsOfLog(db, key)
  await saveMonthTotals(db, key, computed.months)
  await saveLogMonths(db, key, storable(computed.logMonths))
  await saveMonthDigests(db, key, monthDigests(computed.months))
  await nextTurn()
  await refreshMachineMonths(db, key, [...months, ...computed.months.map(({ month }) => month)])
}

async function writeComputed(db: Database, key: SitedKey, computed: Computed, inputs: Inputs): Promise<void> {
  await writeAnalysis(db, key, computed, inputs)
  await writeMonths(db, key, computed)
  await writeDigest(db, key, computed)
}

async function writeRows(db: Database, key: SitedKey, { samples, envelope }: Rows): Promise<void> {
  await insertSampleChunks(db, key, samples)
  await insertEnvelopeChunks(db, key, envelope)
}

/** Marks a log as stored, with what the import found; its row stays locked to the end of the transaction. */
async function finish(
  tx: Database,
  key: SitedKey,
  imported: Imported,
  state: 'replaying' | 'done',
): Promise<LogRow> {
  const row = await finishLog(tx, key, factsOf(imported), state)
  if (!row) throw new TankwardError('import-undone')
  return row
}

/**
 * Makes a log of what its import has written: with it, all of it is there but its options and the account over time,
 * else nothing. The log that it replaces goes with it.
 * @throws TankwardError `import-undone` where the log, or what was written of it, was deleted meanwhile
 */
export async function storeStaged(
  db: Database,
  key: SitedKey,
  imported: Imported,
  inputs: Inputs,
  staged: StagedCounts,
): Promise<void> {
  await db.transaction(async (tx) => {
    // First, so that whoever deletes the log now waits, and a log deleted before ends this.
    const row = await finish(tx, key, imported, 'replaying')
    const there = await countStaged(tx, key)
    const isWhole =
      there.pieces === staged.pieces && there.samples === staged.samples && there.envelope === staged.envelope
    if (!isWhole) throw new TankwardError('import-undone')
    await writeAnalysis(tx, key, imported.computed, { ...inputs, computingInputs: WITHOUT_OPTIONS })
    await writeMonths(tx, key, imported.computed)
    if (row.replaces && row.replaces !== row.id) await removeLog(tx, { ...key, logId: row.replaces })
  })
}

/**
 * Adds the options to a log that `storeStaged` stored and whose account over time was written meanwhile.
 * @throws TankwardError `import-undone` where the log was deleted meanwhile
 */
export async function storeOptions(
  db: Database,
  key: SitedKey,
  computed: Computed,
  inputs: Inputs,
): Promise<void> {
  await db.transaction(async (tx) => {
    if (!(await endReplaying(tx, key, null))) throw new TankwardError('import-undone')
    await writeAnalysis(tx, key, computed, inputs)
    await writeDigest(tx, key, computed)
  })
}

/**
 * Puts a new reading of a stored file in place of the old one, in one transaction.
 * @throws TankwardError `import-undone` where the log was deleted meanwhile
 */
export async function storeReread(
  db: Database,
  key: SitedKey,
  imported: Imported,
  rows: Rows,
  inputs: Inputs,
): Promise<void> {
  await db.transaction(async (tx) => {
    await finish(tx, key, imported, 'done')
    await deleteSampleChunks(tx, key)
    await deleteEnvelopeChunks(tx, key)
    await writeRows(tx, key, rows)
    await writeComputed(tx, key, imported.computed, inputs)
  })
}

/** Puts a new analysis of stored samples in place of the old one, in one transaction. */
export async function storeComputed(
  db: Database,
  key: SitedKey,
  computed: Computed,
  rows: Rows,
  inputs: Inputs,
): Promise<void> {
  await db.transaction(async (tx) => {
    await deleteSampleChunks(tx, key, STREAM_CHANNELS)
    await deleteEnvelopeChunks(tx, key, STREAM_CHANNELS)
    await writeRows(tx, key, rows)
    await writeComputed(tx, key, computed, inputs)
  })
}
