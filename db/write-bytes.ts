import type { PGlite } from '@electric-sql/pglite'
import { type Param, type SQL, sql } from 'drizzle-orm'
import { PgDialect } from 'drizzle-orm/pg-core'
import type { Database } from './client'
import { type Parameter, writeEmbedded } from './embedded-write'

const dialect = new PgDialect()

/** The embedded database behind a handle; null for a server and within a transaction, whose statements go their usual way. */
function embeddedOf(db: Database): PGlite | null {
  const client = '$client' in db ? db.$client : null
  // By what it can do: a bundler may load its class more than once.
  return typeof client === 'object' && client !== null && 'execProtocol' in client ? (client as PGlite) : null
}

/** Whether statements are worked through in this very thread. */
export const isEmbedded = (db: Database): boolean => embeddedOf(db) !== null

/** Runs a statement that returns nothing and whose parameters are texts, numbers and many bytes. */
export async function writeBytes(db: Database, statement: SQL): Promise<void> {
  const embedded = embeddedOf(db)
  if (embedded === null) {
    await db.execute(statement)
    return
  }
  const query = dialect.sqlToQuery(statement)
  await writeEmbedded(embedded, query.sql, query.params as Parameter[])
}

/** Rows a statement, and when it goes although they are fewer. */
const MOST_ROWS = 500
const MOST_BYTES = 1 << 20

interface WithBytes {
  readonly bytes: Uint8Array
}

function batches<Row extends WithBytes>(rows: readonly Row[]): Row[][] {
  const all: Row[][] = []
  let batch: Row[] = []
  let weight = 0
  for (const row of rows) {
    batch.push(row)
    weight += row.bytes.length
    if (batch.length < MOST_ROWS && weight < MOST_BYTES) continue
    all.push(batch)
    batch = []
    weight = 0
  }
  if (batch.length > 0) all.push(batch)
  return all
}

/**
 * Writes rows that each hold some bytes, many of them a statement: their bytes go as one parameter, all else as one text
 * in JSON, which the database cuts up again. A parameter a column would take it longer than the rows themselves.
 * @param statement given the JSON of rows with `at` (from 1) and `length` of their bytes, and all of the bytes
 */
export async function writeRowsOfBytes<Row extends WithBytes>(
  db: Database,
  rows: readonly Row[],
  statement: (json: string, bytes: Param) => SQL,
): Promise<void> {
  const inThisThread = isEmbedded(db)
  for (const batch of batches(rows)) {
    let at = 1
    const facts = batch.map(({ bytes, ...row }) => {
      const fact = { ...row, at, length: bytes.length }
      at += bytes.length
      return fact
    })
    const pieces = batch.map(({ bytes }) => bytes)
    const bytes = sql.param(inThisThread ? pieces : Buffer.concat(pieces))
    await writeBytes(db, statement(JSON.stringify(facts), bytes))
  }
}
