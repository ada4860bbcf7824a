import { createHash, randomUUID } from 'node:crypto'
import { writeFile } from 'node:fs/promises'
import { setImmediate as nextTurn } from 'node:timers/promises'
import { importLog } from '@/app/_jobs/import-log'
import type { RunTask } from '@/app/_jobs/in-worker'
import { startThread } from '@/app/_jobs/task-thread'
import { removeTempFile, tempFile } from '@/app/_jobs/temp-file'
import { PLANT_SITE, type PlantLog, plannedVisits, plantLogs, plantMachines } from '@/app/_plant/plant'
import type { Database } from '@/db/client'
import { listDoneLogs, receiveLog } from '@/db/queries/logs'
import { insertMachine, listMachines } from '@/db/queries/machines'
import { DEFAULT_SITE_ID, saveSite } from '@/db/queries/sites'
import { commandWorker } from './command-worker'
import { seedMeasure } from './seed-measure'

/** Logs in work at a time: one waiting, one analysed, one stored. */
const AT_ONCE = 3

export interface Seeded {
  readonly imported: number
  readonly failed: number
}

/** The settings of the plant's site, where nobody has entered machines of their own. */
async function seedMachines(db: Database): Promise<void> {
  if ((await listMachines(db)).length === 0) await saveSite(db, PLANT_SITE)
  for (const { id, line, trade, machine } of plantMachines())
    await insertMachine(db, { id, siteId: DEFAULT_SITE_ID, line, trade, config: machine })
}

async function importCsv(
  db: Database,
  { machineId, fileName, csv }: PlantLog,
  run: RunTask,
): Promise<boolean> {
  const bytes = Buffer.from(csv)
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const log = { id: randomUUID(), machineId, siteId: DEFAULT_SITE_ID, sha256, fileName }
  const { row, isNew } = await receiveLog(db, { ...log, byteLength: bytes.length })
  if (!isNew) return row.state === 'done'
  const path = tempFile()
  try {
    await writeFile(path, bytes)
    const key = { machineId, logId: row.id, siteId: DEFAULT_SITE_ID }
    const packing = { isPacked: false, packing: 'gzip' as const }
    return await importLog(db, key, { path, fileName, diskBytes: bytes.length, ...packing }, run)
  } finally {
    await removeTempFile(path)
  }
}

/**
 * Fills a database with the invented plant through the same import as any upload; what is there already is
 * left as it is.
 * @param tell told after each log how many of how many are done
 */
export async function seedPlant(db: Database, tell: (done: number, of: number) => void): Promise<Seeded> {
  await seedMachines(db)
  const present = new Set<string>()
  for (const { id } of plantMachines())
    for (const { fileName } of await listDoneLogs(db, id)) present.add(`${id} ${fileName}`)
  const of = plannedVisits().length
  let done = 0
  let imported = 0
  let failed = 0
  const isMissing = (machineId: string, fileName: string) => {
    if (!present.has(`${machineId} ${fileName}`)) return true
    done++
    return false
  }
  // One log is read and analysed in the thread while this one simulates the next and stores the one before.
  const thread = startThread(true, commandWorker)
  const run: RunTask = thread.run
  try {
    const running = new Set<Promise<void>>()
    for (const log of plantLogs(isMissing)) {
      const one = importCsv(db, log, run).then((isStored) => {
        if (isStored) imported++
        else failed++
        running.delete(one)
        tell(++done, of)
      })
      running.add(one)
      if (running.size >= AT_ONCE) await Promise.race(running)
      // The simulation above never waits: let messages and the database have their turn.
      await nextTurn()
    }
    await Promise.all(running)
    await seedMeasure(db)
  } finally {
    await thread.stop()
  }
  return { imported, failed }
}
