import { randomUUID } from 'node:crypto'
import type { Database } from '@/db/client'
import { receiveLog } from '@/db/queries/logs'
import { insertMachine } from '@/db/queries/machines'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { type Machine, machineSchema } from '@/lib/contract/machine'

/** The worked example of the contract: a baler's power unit. */
export const BALER: Machine = machineSchema.parse({
  version: 1,
  name: 'Baler 2',
  motor: {
    ratedPowerKW: 22,
    ratedVoltageV: 400,
    ratedCurrentA: 40.2,
    ratedPowerFactor: 0.86,
    ratedEfficiency: 0.92,
    ratedSpeedRpm: 1467,
    poles: 4,
    frequencyHz: 50,
    noLoadCurrentA: 15.8,
  },
  pump: {
    kind: 'fixed',
    displacementCm3: 60,
    ratedPressureBar: 160,
    ratedSpeedRpm: 1470,
    volumetricEfficiency: 0.93,
    overallEfficiency: 0.856,
  },
  relief: { kind: 'pilot-operated', settingBar: 160, ratedFlowLpm: 85 },
  unloading: { kind: 'none', pressureBar: 5 },
})

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
