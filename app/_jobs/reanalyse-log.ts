import type { Database } from '@/db/client'
import { listCorrections } from '@/db/queries/corrections'
import { listDoneLogs } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { listSampleChunks } from '@/db/queries/sample-chunks'
import { siteSettings } from '@/db/queries/sites'
import type { LogRow } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import { TIME_CHANNEL } from './channel-names'
import { inWorker } from './in-worker'
import { inputsOf, overlapOf, siteOfLog } from './inputs'
import { gatheredRows } from './row-buffer'
import { storeComputed } from './store-log'
import type { OnRefresh } from './task'
import type { StoredLog } from './unpack-log'

/** A log's samples as the database holds them, with what goes with them. */
export async function loadLog(db: Database, row: LogRow): Promise<StoredLog> {
  const { channels, report, sampleCount } = row
  if (!channels || !report || sampleCount === null)
    throw new TankwardError('samples-missing', { log: row.id })
  const key = { machineId: row.machineId, logId: row.id }
  const names = [TIME_CHANNEL, ...channels.map(({ name }) => name)]
  const chunks = []
  for (const name of names) chunks.push(...(await listSampleChunks(db, key, name)))
  const startedAtMs = row.startedAt?.getTime() ?? null
  return { startedAtMs, sampleCount, channels, report, chunks }
}

/**
 * Analyses a stored log anew from its samples: after the nameplate, the price, a correction or the engine
 * changed. What was there stays until the new analysis is stored in its place.
 * @throws TankwardError where the machine as set up now cannot carry an account with this log
 */
export async function reanalyseLog(db: Database, row: LogRow, onProgress: OnRefresh): Promise<void> {
  const machine = await findMachine(db, row.machineId)
  if (!machine) throw new TankwardError('unknown-machine', { machine: row.machineId })
  const site = siteOfLog(await siteSettings(db, row.siteId), row)
  const key = { machineId: row.machineId, logId: row.id, siteId: row.siteId }
  const corrections = await listCorrections(db, key)
  const stored = await loadLog(db, row)
  const leftOut = overlapOf(row, await listDoneLogs(db, row.machineId))
  const inputs = { machine: machine.config, site, corrections, leftOut }
  const { rows, onRows } = gatheredRows()
  const computed = await inWorker({ kind: 'analyse', stored, ...inputs }, onProgress, onRows)
  onProgress('storing', 0)
  const made = inputsOf(machine.config, site, corrections, row.reading?.reading, leftOut)
  await storeComputed(db, key, computed, rows, made)
}
