import { sql } from 'drizzle-orm'
import { customType, timestamp } from 'drizzle-orm/pg-core'

/** Raw bytes. drizzle has no bytea column of its own; both drivers hand over and take a Uint8Array. */
export const bytea = customType<{ data: Uint8Array; driverData: Uint8Array }>({
  dataType: () => 'bytea',
  toDriver: (value) => value,
  // A view on a larger pool is copied, so that typed arrays can be laid over the bytes from offset 0.
  fromDriver: (value) => new Uint8Array(value),
})

/** An instant with zone, as a Date. */
export const instant = (name: string) => timestamp(name, { withTimezone: true, mode: 'date' })

/** When the row was made. */
export const createdAt = () => instant('created_at').notNull().default(sql`now()`)

/** When the row last changed; queries that change a row set it. */
export const updatedAt = () => instant('updated_at').notNull().default(sql`now()`)
