import { foreignKey, text } from 'drizzle-orm/pg-core'
import { logs } from './logs'

/** The columns every table below a log begins with, so that it can be spread over nodes by machine. */
export const logKey = () => ({
  machineId: text('machine_id').notNull(),
  logId: text('log_id').notNull(),
  siteId: text('site_id').notNull(),
})

type Key = Parameters<typeof foreignKey>[0]['columns'][number]

/** Ties the rows to their log: deleting the log deletes them. */
export const ofLog = (table: { machineId: Key; logId: Key }) =>
  foreignKey({ columns: [table.machineId, table.logId], foreignColumns: [logs.machineId, logs.id] }).onDelete(
    'cascade',
  )
