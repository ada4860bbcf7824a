import { createWriteStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { PassThrough, Readable, type Transform } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { createBrotliDecompress, createGunzip } from 'node:zlib'
import type { Database } from '@/db/client'
import { listCorrections } from '@/db/queries/corrections'
import { type FilePiece, findFilePiece } from '@/db/queries/log-files'
import { listDoneLogs } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { Packing } from '@/db/schema/log-files'
import { isStored, type LogRow } from '@/db/schema/logs'
import type { Machine } from '@/lib/contract/machine'
import type { Reading } from '@/lib/contract/reading'
import { TankwardError } from '@/lib/errors'
import type { ImportReport } from '@/lib/import/report'
import { inWorker } from './in-worker'
import { answersOf, inputsOf, machineAsRead, overlapOf, siteOfLog } from './inputs'
import { gatheredRows } from './row-buffer'
import { instantsOf, storeReread } from './store-log'
import type { OnRefresh, ReceivedFile } from './task'
import { removeTempFile, tempFile } from './temp-file'

/**
 * A kept original as it is stored, with how it is packed; null where there is none.
 * @param part which of the files of a recording, from 0
 */
export async function storedFile(
  db: Database,
  row: LogRow,
  part = 0,
): Promise<{ readonly packing: Packing; readonly pieces: AsyncGenerator<Uint8Array> } | null> {
  const key = { machineId: row.machineId, logId: row.id }
  const first = isStored(row) ? await findFilePiece(db, key, part, 0) : null
  if (!first) return null
  const pieces = async function* () {
    for (
      let piece: FilePiece | null = first;
      piece;
      piece = await findFilePiece(db, key, part, piece.seq + 1)
    )
      yield piece.bytes
  }
  return { packing: first.packing, pieces: pieces() }
}

/** The names of a stored log's files, in the order they came. */
export const namesOf = ({ fileName, parts }: LogRow): string[] =>
  parts ? parts.map((part) => part.fileName) : [fileName]

async function fetchStored(db: Database, row: LogRow, part: number, path: string): Promise<ReceivedFile> {
  const stored = await storedFile(db, row, part)
  if (!stored) throw new TankwardError('samples-missing', { log: row.id })
  const isPacked = stored.packing !== 'brotli'
  // What only this server packed is unpacked on its way; a gzip file is read as it came.
  const through = isPacked ? new PassThrough() : createBrotliDecompress()
  await pipeline(Readable.from(stored.pieces), through, createWriteStream(path))
  return { path, diskBytes: (await stat(path)).size, isPacked, fileName: namesOf(row)[part] }
}

/** Does something with a stored log's original files on the disk, which are removed afterwards. */
export async function withStoredFiles<T>(
  db: Database,
  row: LogRow,
  use: (file: ReceivedFile) => Promise<T>,
): Promise<T> {
  const paths = namesOf(row).map(() => tempFile())
  try {
    const files: ReceivedFile[] = []
    for (const [part, path] of paths.entries()) files.push(await fetchStored(db, row, part, path))
    const [first, ...further] = files
    return await use({ ...first, further })
  } finally {
    for (const path of paths) await removeTempFile(path)
  }
}

/** What turns stored pieces into the original; null where they are it. */
export const unpackerOf = (packing: Packing): Transform | null =>
  packing === 'none' ? null : packing === 'gzip' ? createGunzip() : createBrotliDecompress()

/** Sensors are those that were fitted when the log was made: the set-up of today says nothing of them, a person may. */
function asFitted(machine: Machine, earlier: ImportReport | null, said: Reading | null): Machine {
  if (said?.channels) return machineAsRead(machine, said)
  const channels = machine.channels?.map(({ evidence: _, ...channel }) => {
    const known = earlier?.channels.find(({ column }) => column === channel.column)
    return known?.evidence ? { ...channel, evidence: known.evidence } : channel
  })
  return { ...machine, channels }
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
  await withStoredFiles(db, row, async (file) => {
    const key = { machineId: row.machineId, logId: row.id, siteId: row.siteId }
    const corrections = await listCorrections(db, key)
    const reading = row.reading?.reading ?? null
    const leftOut = overlapOf(row, await listDoneLogs(db, row.machineId))
    const inputs = { machine: asFitted(machine.config, row.report, reading), site, corrections, leftOut }
    const { rows, onRows } = gatheredRows()
    const imported = await inWorker(
      { kind: 'import', file, answers: answersOf(reading), ...inputs },
      onProgress,
      onRows,
    )
    onProgress('storing', 0)
    const made = inputsOf(
      machine.config,
      siteOfLog(site, instantsOf(imported.span)),
      corrections,
      reading,
      leftOut,
    )
    await storeReread(db, key, imported, rows, made)
  })
}
