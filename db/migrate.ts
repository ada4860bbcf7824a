import { join } from 'node:path'
import type { PGlite } from '@electric-sql/pglite'
import { sql } from 'drizzle-orm'
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite'
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator'
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js'
import { migrate as migratePostgres } from 'drizzle-orm/postgres-js/migrator'
import postgres from 'postgres'

/** Any fixed number, the same in every process: "tankward" as a number of 32 bits. */
const MIGRATION_LOCK = 0x7a4b_0001

const migrationsFolder = () => join(process.cwd(), 'db', 'migrations')

/** Brings the embedded database up to date. */
export async function migrateEmbedded(client: PGlite): Promise<void> {
  await migratePglite(drizzlePglite(client), { migrationsFolder: migrationsFolder() })
}

/** Brings a PostgreSQL database up to date; processes starting together wait for the first. */
export async function migrateServer(url: string): Promise<void> {
  // One connection: the advisory lock belongs to it and ends with it.
  const client = postgres(url, { max: 1, onnotice: () => {} })
  try {
    const db = drizzlePostgres(client)
    await db.execute(sql`select pg_advisory_lock(${MIGRATION_LOCK})`)
    await migratePostgres(db, { migrationsFolder: migrationsFolder() })
  } finally {
    await client.end()
  }
}
