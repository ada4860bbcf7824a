import { createWriteStream } from 'node:fs'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { Database } from '@/db/client'
import { listCorrections } from '@/db/queries/corrections'
import { findFilePiece } from '@/db/queries/log-files'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { LogRow } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import { inWorker } from './in-worker'
import { answersOf, inputsOf, machineAsRead, siteOfLog } from './inputs'
import { instantsOf, storeImported } from './store-log'
import type { OnRefresh } from './task'
import { removeTempFile, tempFile } from './temp-file'

/** The kept original as it is stored: packed, whichever way it came. */
export async function* storedPieces(db: Database, row: LogRow): AsyncGenerator<Uint8Array> {
  const key = { machineId: row.machineId, logId: row.id }
  for (let seq = 0; ; seq++) {
    const piece = await findFilePiece(db, key, seq)
    if (!piece) return
    yield piece.bytes
  }
}

/**
 * Reads a stored log's original file again: after its columns were declared otherwise or the site's time zone
 * changed, or a person answered anew what it leaves open. What was there stays until the new reading is stored in its place.
 * @throws TankwardError where the file cannot be understood that way
 */
export async function rereadLog(db: Database, row: LogRow, onProgress: OnRefresh): Promise<void> {
  const machine = await findMachine(db, row.machineId)
  if (!machine) throw new TankwardError('unknown-machine', { machine: row.machineId })
  const site = await siteSettings(db, row.siteId)
  const path = tempFile()
  try {
    let diskBytes = 0
    const pieces = storedPieces(db, row)
    const counted = async function* () {
      for await (const bytes of pieces) {
        diskBytes += bytes.length
        yield bytes
      }
    }
    await pipeline(Readable.from(counted()), createWriteStream(path))
    const file = { path, diskBytes, isPacked: true, fileName: row.fileName }
    const key = { machineId: row.machineId, logId: row.id, siteId: row.siteId }
    const corrections = await listCorrections(db, key)
    const reading = row.reading?.reading ?? null
    const inputs = { machine: machineAsRead(machine.config, reading), site, corrections }
    const imported = await inWorker(
      { kind: 'import', file, answers: answersOf(reading), ...inputs },
      onProgress,
    )
    onProgress('storing', 0)
    const made = inputsOf(machine.config, siteOfLog(site, instantsOf(imported.span)), corrections, reading)
    await storeImported(db, key, imported, made, null)
  } finally {
    await removeTempFile(path)
  }
}
