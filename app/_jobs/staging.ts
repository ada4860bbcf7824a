import { setImmediate as nextTurn } from 'node:timers/promises'
import type { Database } from '@/db/client'
import { insertEnvelopeChunks } from '@/db/queries/envelope-chunks'
import { insertFilePiece } from '@/db/queries/log-files'
import { insertSampleChunks } from '@/db/queries/sample-chunks'
import { deleteStaged, type StagedCounts } from '@/db/queries/staged-rows'
import { filePieces, type KeptFile } from './file-pieces'
import type { SitedKey } from './store-log'
import type { OnRows } from './task'

/** Writes what belongs to a log while its import goes on, in small statements with turns for others between them. */
export interface Staging {
  readonly onRows: OnRows
  /** Writes the original files of a recording; ends early where `stop` was called. */
  keepFiles(files: readonly KeptFile[]): Promise<void>
  /** Nothing more is to be written. */
  stop(): void
  /** What was written. */
  readonly counts: StagedCounts
}

/** Begins anew: what an earlier attempt left is deleted. */
export async function startStaging(db: Database, key: SitedKey): Promise<Staging> {
  await deleteStaged(db, key)
  const counts = { pieces: 0, samples: 0, envelope: 0 }
  let isStopped = false
  return {
    counts,
    onRows: async ({ samples, envelope }) => {
      if (isStopped) return
      await insertSampleChunks(db, key, samples)
      counts.samples += samples.length
      await insertEnvelopeChunks(db, key, envelope)
      counts.envelope += envelope.length
      // The embedded database works in this thread and never waits by itself.
      await nextTurn()
    },
    keepFiles: async (files) => {
      for (const [part, file] of files.entries())
        for await (const piece of filePieces(file, part)) {
          if (isStopped) return
          await insertFilePiece(db, key, piece)
          counts.pieces++
          await nextTurn()
        }
    },
    stop: () => {
      isStopped = true
    },
  }
}
