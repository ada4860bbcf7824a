import { Readable } from 'node:stream'
import { storedFile, unpackerOf } from '@/app/_jobs/reread-log'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { route } from '@/app/_server/route'
import { attachment } from '@/app/_server/upload-name'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** The original file, byte for byte. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  const row = await needLog(db, id)
  const stored = await storedFile(db, row)
  if (!stored) throw new ApiProblem('not-ready', { id, state: row.state })
  const pieces = Readable.from(stored.pieces)
  const unpacker = unpackerOf(stored.packing)
  const original = unpacker ? pieces.pipe(unpacker) : pieces
  pieces.on('error', (error) => original.destroy(error))
  return new Response(Readable.toWeb(original) as ReadableStream, {
    headers: {
      'Content-Type': stored.packing === 'none' ? 'application/gzip' : 'text/csv',
      'Content-Length': String(row.byteLength),
      'Content-Disposition': attachment(row.fileName),
      'Cache-Control': 'no-store',
      'X-Content-Type-Options': 'nosniff',
    },
  })
})
