import type { LayoutRow } from '@/db/schema/layouts'
import type { LayoutAnswer } from './inspection-shapes'

export function layoutAnswer(row: LayoutRow): LayoutAnswer {
  const { id, machineId, layout, reading, author, fileName, createdAt, usedAt } = row
  return {
    id,
    url: `/api/machines/${encodeURIComponent(machineId)}/layouts/${id}`,
    layout,
    reading,
    author,
    fileName,
    createdAt: createdAt.toISOString(),
    usedAt: usedAt?.toISOString() ?? null,
  }
}
