import { randomUUID } from 'node:crypto'
import type { Database } from '@/db/client'
import { receiveLog } from '@/db/queries/logs'
import { insertMachine } from '@/db/queries/machines'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import type { Machine } from '@/lib/contract/machine'
import { BALER } from '../invented/baler'

/** A machine of its own for one test. */
export async function newMachine(db: Database, config: Machine = BALER): Promise<string> {
  const id = `machine-${randomUUID()}`
  await insertMachine(db, { id, siteId: DEFAULT_SITE_ID, line: null, trade: null, config })
  return id
}

/** A received log of a machine; `sha256` says which file it is. */
export async function newLog(db: Database, machineId: string, sha256: string = randomUUID()) {
  const file = { sha256, fileName: 'log.csv', byteLength: 1234 }
  const { row } = await receiveLog(db, { id: randomUUID(), machineId, siteId: DEFAULT_SITE_ID, ...file })
  return { machineId, logId: row.id, siteId: DEFAULT_SITE_ID }
}
