import { existsSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { tempFile } from '@/app/_jobs/temp-file'
import { openForWork } from '@/app/_server/database'
import { findLog, setLogProgress } from '@/db/queries/logs'
import { newLog, newMachine } from '../../db/fixtures'

let folder: string
const before = { ...process.env }

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-open-'))
  process.env.TANKWARD_DATA = folder
  process.env.TANKWARD_UPLOADS = folder
  delete process.env.DATABASE_URL
})
afterEach(() => {
  process.env = before
  rmSync(folder, { recursive: true, force: true })
})

it('puts right what a process that died left behind: unfinished imports and old files', {
  timeout: 180_000,
}, async () => {
  const first = await openForWork()
  const key = await newLog(first.db, await newMachine(first.db))
  await setLogProgress(first.db, key, 'analysing', 0.5)
  await first.close()
  const [old, fresh] = [tempFile(), tempFile()]
  for (const path of [old, fresh]) writeFileSync(path, 'rows')
  const twoDaysAgo = Date.now() / 1000 - 2 * 86_400
  utimesSync(old, twoDaysAgo, twoDaysAgo)

  const second = await openForWork()
  expect(await findLog(second.db, key.logId)).toMatchObject({
    state: 'failed',
    error: { code: 'interrupted' },
  })
  expect([existsSync(old), existsSync(fresh)]).toEqual([false, true])
  await second.close()
})
