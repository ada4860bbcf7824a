import { Readable } from 'node:stream'
import { namesOf, storedFile, unpackerOf } from '@/app/_jobs/reread-log'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { route } from '@/app/_server/route'
import { attachment } from '@/app/_server/upload-name'
import type { Packing } from '@/db/schema/log-files'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

const XLSX = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'

/** What a browser is told of an original; whoever opens it sees for himself. */
function typeOf(fileName: string, packing: Packing): string {
  if (packing === 'none') return 'application/gzip'
  return /\.xlsx$/i.test(fileName) ? XLSX : 'text/csv'
}

/** The original file, byte for byte; of several of a recording the one that `?part=` counts from 0. */
export const GET = route<Params>('read', async (request, { id }) => {
  const db = await database()
  const row = await needLog(db, id)
  const names = namesOf(row)
  const asked = new URL(request.url).searchParams.get('part') ?? '0'
  const part = /^\d{1,4}$/.test(asked) ? Number(asked) : Number.NaN
  if (!(part < names.length))
    throw new ApiProblem('bad-query', { name: 'part', expected: `0 to ${names.length - 1}`, actual: asked })
  const stored = await storedFile(db, row, part)
  if (!stored) throw new ApiProblem('not-ready', { id, state: row.state })
  const pieces = Readable.from(stored.pieces)
  const unpacker = unpackerOf(stored.packing)
  const original = unpacker ? pieces.pipe(unpacker) : pieces
  pieces.on('error', (error) => original.destroy(error))
  return new Response(Readable.toWeb(original) as ReadableStream, {
    headers: {
      'Content-Type': typeOf(names[part], stored.packing),
      'Content-Length': String(row.parts ? row.parts[part].byteLength : row.byteLength),
      'Content-Disposition': attachment(names[part]),
      'Cache-Control': 'no-store',
      'X-Content-Type-Options': 'nosniff',
    },
  })
})
