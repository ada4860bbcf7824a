import { importLog } from '@/app/_jobs/import-log'
import type { RunTask } from '@/app/_jobs/in-worker'
import { runTask } from '@/app/_jobs/run-task'
import { openForWork } from '@/app/_server/database'
import { newLog, newMachine } from '../../db/fixtures'
import { arrivedSample, sampleMachine } from '../sample-files'

// A process of its own, started to be killed: imports a sample log, begins to import it as another file, and stands still
// in the middle of that, when something of it has been written already.

const NAME = 'shear-pump-flow'
const HOUR_MS = 3_600_000

const { db } = await openForWork()
const machineId = await newMachine(db, sampleMachine(NAME))
const earlier = await newLog(db, machineId)
await importLog(db, earlier, arrivedSample(`${NAME}.csv`))
const dying = await newLog(db, machineId)
const standStill: RunTask = (task, onProgress, onRows) =>
  runTask(task, onProgress, async (rows) => {
    await onRows?.(rows)
    console.log(JSON.stringify({ earlier, dying }))
    await new Promise((resolve) => setTimeout(resolve, HOUR_MS))
  })
await importLog(db, dying, arrivedSample(`${NAME}.csv`), standStill)
