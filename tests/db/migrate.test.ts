import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type OpenDatabase, openDatabase } from '@/db/client'
import { emptyServerDatabase, onServer } from './databases'

onServer('migrations', () => {
  let empty: Awaited<ReturnType<typeof emptyServerDatabase>>
  let opened: OpenDatabase[] = []
  beforeAll(async () => {
    empty = await emptyServerDatabase()
  })
  afterAll(async () => {
    await Promise.all(opened.map((one) => one.close()))
    await empty?.drop()
  })

  it('run once where several processes open an empty database together', async () => {
    opened = await Promise.all(
      Array.from({ length: 4 }, () => openDatabase({ url: empty.url, folder: null })),
    )
    const applied = sql`(select created_at from drizzle.__drizzle_migrations group by created_at having count(*) > 1) twice`
    expect(await opened[0].db.$count(applied)).toBe(0)
    expect(await opened[0].db.$count(sql`drizzle.__drizzle_migrations`)).toBeGreaterThanOrEqual(2)
  })
})
