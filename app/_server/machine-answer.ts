import { isRefreshing } from '@/app/_jobs/queue'
import type { MachineRow } from '@/db/schema/machines'
import type { MachineAnswer } from './shapes'

export function machineAnswer(row: MachineRow): MachineAnswer {
  const { id, name, line, trade, config } = row
  const url = `/api/machines/${encodeURIComponent(id)}`
  return { id, name, line, trade, url, refreshing: isRefreshing(id), machine: config }
}
