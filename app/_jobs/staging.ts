import { setImmediate as nextTurn } from 'node:timers/promises'
import type { Database } from '@/db/client'
import { insertEnvelopeChunks } from '@/db/queries/envelope-chunks'
import { insertFilePiece } from '@/db/queries/log-files'
import { insertSampleChunks } from '@/db/queries/sample-chunks'
import { deleteStaged, type StagedCounts } from '@/db/queries/staged-rows'
import { isEmbedded } from '@/db/write-bytes'
import { filePieces, type KeptFile } from './file-pieces'
import type { SitedKey } from './store-log'
import type { OnRows } from './task'

/** Writes what belongs to a log while its import goes on, in small statements with time for others between them. */
export interface Staging {
  readonly onRows: OnRows
  /** Writes the original files of a recording; ends early where `stop` was called. */
  keepFiles(files: readonly KeptFile[]): Promise<void>
  /** Nothing more is to be written. */
  stop(): void
  /** What was written. */
  readonly counts: StagedCounts
}

/** After a statement that took this long pages have waited anyway. */
const MOST_REST_MS = 50

type Write = () => Promise<void>

/**
 * How to write beside pages. The embedded database works in the thread that serves them and never waits by itself: there one
 * statement follows another after a rest as long as it took. A page asks for several things in turn, and would wait for
 * a statement before each of them.
 */
function besidePages(db: Database): (write: Write) => Promise<void> {
  if (!isEmbedded(db))
    return async (write) => {
      await write()
      await nextTurn()
    }
  let rested: Promise<void> = Promise.resolve()
  return async (write) => {
    const before = rested
    let go = () => {}
    rested = new Promise((resolve) => {
      go = resolve
    })
    await before
    const began = performance.now()
    try {
      await write()
    } finally {
      setTimeout(go, Math.min(MOST_REST_MS, performance.now() - began))
    }
  }
}

/** Begins anew: what an earlier attempt left is deleted. */
export async function startStaging(db: Database, key: SitedKey): Promise<Staging> {
  await deleteStaged(db, key)
  const counts = { pieces: 0, samples: 0, envelope: 0 }
  const write = besidePages(db)
  let isStopped = false
  return {
    counts,
    onRows: async ({ samples, envelope }) => {
      if (isStopped) return
      if (samples.length > 0) await write(() => insertSampleChunks(db, key, samples))
      counts.samples += samples.length
      if (envelope.length > 0) await write(() => insertEnvelopeChunks(db, key, envelope))
      counts.envelope += envelope.length
    },
    keepFiles: async (files) => {
      for (const [part, file] of files.entries())
        for await (const piece of filePieces(file, part)) {
          if (isStopped) return
          await write(() => insertFilePiece(db, key, piece))
          counts.pieces++
        }
    },
    stop: () => {
      isStopped = true
    },
  }
}
