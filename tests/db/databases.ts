import { randomUUID } from 'node:crypto'
import postgres from 'postgres'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type OpenDatabase, openDatabase } from '@/db/client'
import { type PostgresServer, postgresBinaries, startPostgres } from './postgres-server'

/** A running server given by whoever runs the tests, without a database's name. */
const givenUrl = process.env.TEST_DATABASE_URL
const binaries = postgresBinaries()
const hasServer = Boolean(givenUrl) || binaries !== null

/** A new, empty database on a PostgreSQL server; the server is started for it where none is given. */
export async function emptyServerDatabase(): Promise<{ url: string; drop(): Promise<void> }> {
  let server: PostgresServer | null = null
  if (!givenUrl) {
    if (!binaries) throw new Error('no PostgreSQL programs here: apt-get install postgresql')
    server = await startPostgres(binaries)
  }
  const base = (givenUrl ?? server?.url ?? '').replace(/\/$/, '')
  const name = `tankward_${randomUUID().replaceAll('-', '')}`
  const admin = postgres(`${base}/postgres`, { max: 1, onnotice: () => {} })
  await admin.unsafe(`create database ${name}`)
  const drop = async () => {
    await admin.unsafe(`drop database ${name} with (force)`)
    await admin.end()
    server?.stop()
  }
  return { url: `${base}/${name}`, drop }
}

/** Runs a suite that needs a PostgreSQL server; without one it is skipped for all to see, and fails in CI. */
export function onServer(name: string, suite: () => void): void {
  if (hasServer) describe(`${name} (PostgreSQL)`, suite)
  else if (process.env.CI === 'true')
    it(`${name} (PostgreSQL)`, () => expect.fail('no PostgreSQL programs here: apt-get install postgresql'))
  else
    describe.skipIf(true)(`${name} (PostgreSQL) skipped: apt-get install postgresql`, () => {
      it('needs a PostgreSQL server', () => expect.fail('not reached'))
    })
}

/**
 * Runs a suite on PGlite in memory and on a real PostgreSQL server, each with a new database of its own.
 * @param suite takes a function that gives the open database, to be called inside hooks and tests
 */
export function onBothDatabases(name: string, suite: (opened: () => OpenDatabase) => void): void {
  describe(`${name} (PGlite)`, () => {
    let opened: OpenDatabase
    beforeAll(async () => {
      opened = await openDatabase({ folder: null })
    })
    afterAll(() => opened?.close())
    suite(() => opened)
  })
  onServer(name, () => {
    let opened: OpenDatabase
    let drop: () => Promise<void> = async () => {}
    beforeAll(async () => {
      const empty = await emptyServerDatabase()
      drop = empty.drop
      opened = await openDatabase({ url: empty.url, folder: null })
    })
    afterAll(async () => {
      await opened?.close()
      await drop()
    })
    suite(() => opened)
  })
}
