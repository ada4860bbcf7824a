import { createWriteStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { PassThrough, Readable, type Transform } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { createBrotliDecompress, createGunzip } from 'node:zlib'
import type { Database } from '@/db/client'
import { listCorrections } from '@/db/queries/corrections'
import { type FilePiece, findFilePiece } from '@/db/queries/log-files'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { Packing } from '@/db/schema/log-files'
import type { LogRow } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import { inWorker } from './in-worker'
import { answersOf, inputsOf, machineAsRead, siteOfLog } from './inputs'
import { gatheredRows } from './row-buffer'
import { instantsOf, storeReread } from './store-log'
import type { OnRefresh } from './task'
import { removeTempFile, tempFile } from './temp-file'

/** The kept original as it is stored, with how it is packed; null where there is none. */
export async function storedFile(
  db: Database,
  row: LogRow,
): Promise<{ readonly packing: Packing; readonly pieces: AsyncGenerator<Uint8Array> } | null> {
  const key = { machineId: row.machineId, logId: row.id }
  const first = row.state === 'done' ? await findFilePiece(db, key, 0) : null
  if (!first) return null
  const pieces = async function* () {
    for (let piece: FilePiece | null = first; piece; piece = await findFilePiece(db, key, piece.seq + 1))
      yield piece.bytes
  }
  return { packing: first.packing, pieces: pieces() }
}

/** What turns stored pieces into the original; null where they are it. */
export const unpackerOf = (packing: Packing): Transform | null =>
  packing === 'none' ? null : packing === 'gzip' ? createGunzip() : createBrotliDecompress()

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
    const stored = await storedFile(db, row)
    if (!stored) throw new TankwardError('samples-missing', { log: row.id })
    const isPacked = stored.packing !== 'brotli'
    // What only this server packed is unpacked on its way; a gzip file is read as it came.
    const through = isPacked ? new PassThrough() : createBrotliDecompress()
    await pipeline(Readable.from(stored.pieces), through, createWriteStream(path))
    const file = { path, diskBytes: (await stat(path)).size, isPacked, fileName: row.fileName }
    const key = { machineId: row.machineId, logId: row.id, siteId: row.siteId }
    const corrections = await listCorrections(db, key)
    const reading = row.reading?.reading ?? null
    const inputs = { machine: machineAsRead(machine.config, reading), site, corrections }
    const { rows, onRows } = gatheredRows()
    const imported = await inWorker(
      { kind: 'import', file, answers: answersOf(reading), ...inputs },
      onProgress,
      onRows,
    )
    onProgress('storing', 0)
    const made = inputsOf(machine.config, siteOfLog(site, instantsOf(imported.span)), corrections, reading)
    await storeReread(db, key, imported, rows, made)
  } finally {
    await removeTempFile(path)
  }
}
