import { byName } from '@/app/_ui/name-order'
import type { Database } from '@/db/client'
import { listLogs } from '@/db/queries/logs'
import { listMachineNames } from '@/db/queries/machines'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { type LogChoice, logChoice } from './machine-view'

export interface UploadView {
  readonly machines: readonly { readonly id: string; readonly name: string }[]
  /** The machine asked for if it is known, else the only one there is, else none. */
  readonly machineId: string
  readonly timeZone: string
  readonly logs: readonly LogChoice[]
}

/** What the upload page starts from. */
export async function uploadView(db: Database, wanted: string | undefined): Promise<UploadView> {
  const machines = byName(await listMachineNames(db, DEFAULT_SITE_ID)).map(({ id, name }) => ({ id, name }))
  const only = machines.length === 1 ? machines[0].id : ''
  const machineId = machines.find(({ id }) => id === wanted)?.id ?? only
  return {
    machines,
    machineId,
    timeZone: (await siteSettings(db)).timeZone,
    logs: machineId ? (await listLogs(db, machineId)).map(logChoice) : [],
  }
}
