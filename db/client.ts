import { join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core'
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite'
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js'
import postgres from 'postgres'
import { embeddedBytes } from './embedded-bytes'
import { lockFolder } from './folder-lock'
import { migrateEmbedded, migrateServer } from './migrate'
import { ensureDefaultSite } from './queries/sites'
import { schema } from './schema'

/** The one type queries take: the embedded database, a PostgreSQL server, or a transaction on either. */
export type Database = PgDatabase<PgQueryResultHKT, typeof schema>

export interface OpenDatabase {
  readonly db: Database
  readonly kind: 'embedded' | 'server'
  close(): Promise<void>
}

export interface DatabasePlace {
  /** Connection string of a PostgreSQL server; without it the embedded database is used. */
  readonly url?: string
  /** Folder the embedded database lives in; null keeps it in memory. */
  readonly folder: string | null
}

/** Where the environment says the data lives: DATABASE_URL, else TANKWARD_DATA, else `.tankward`. */
export function placeFromEnv(env: Readonly<Record<string, string | undefined>>): DatabasePlace {
  return { url: env.DATABASE_URL || undefined, folder: env.TANKWARD_DATA || '.tankward' }
}

async function openServer(url: string): Promise<OpenDatabase> {
  await migrateServer(url)
  const client = postgres(url, { onnotice: () => {} })
  const db = drizzlePostgres(client, { schema })
  return { db, kind: 'server', close: () => client.end({ timeout: 5 }) }
}

async function openEmbedded(folder: string | null): Promise<OpenDatabase> {
  const release = folder === null ? () => {} : await lockFolder(folder)
  try {
    const client = await PGlite.create({
      ...embeddedBytes,
      ...(folder === null ? {} : { dataDir: join(folder, 'db') }),
    })
    // A new file of its journal, every 16 MB, is not filled with zeros first: that held this thread for some 40 ms each time.
    await client.exec('set wal_init_zero = off')
    await migrateEmbedded(client)
    const close = async () => {
      await client.close()
      release()
    }
    return { db: drizzlePglite(client, { schema }), kind: 'embedded', close }
  } catch (error) {
    release()
    throw error
  }
}

/**
 * Opens the database, brings its tables up to date and makes sure there is a site.
 * @throws FolderInUseError where another process owns the embedded database's folder
 */
export async function openDatabase(place: DatabasePlace): Promise<OpenDatabase> {
  const opened = place.url ? await openServer(place.url) : await openEmbedded(place.folder)
  await ensureDefaultSite(opened.db)
  return opened
}
