export type Outage = 'disk-full' | 'database-lost' | 'out-of-memory'

/** What POSIX and PostgreSQL call a full disk. */
const DISK_FULL = /^(ENOSPC|EDQUOT|53100)$/
/** What the driver, the network and PostgreSQL (classes 08 and 57P) say of a database that is not there. */
const DATABASE_LOST =
  /^(CONNECTION_(CLOSED|ENDED|DESTROYED)|CONNECT_TIMEOUT|ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|ENOTFOUND|08\w{3}|57P0[1-3])$/
/** What Node calls a thread whose heap is full; and what V8 says, without a code, where there is no room for an array. */
const OUT_OF_MEMORY = /^ERR_WORKER_OUT_OF_MEMORY$/
const NO_ROOM = /Array buffer allocation failed/
/** The embedded database has no code for it. */
const EMBEDDED_CLOSED = /PGlite is clos(ed|ing)/
const DEEPEST_CAUSE = 8

/** What broke down around a piece of work, where the error or its causes say so; null for any other fault. */
export function outageOf(error: unknown): Outage | null {
  let at = error
  for (let depth = 0; at instanceof Error && depth < DEEPEST_CAUSE; depth++) {
    const code = 'code' in at ? String(at.code) : ''
    if (DISK_FULL.test(code)) return 'disk-full'
    if (DATABASE_LOST.test(code) || EMBEDDED_CLOSED.test(at.message)) return 'database-lost'
    if (OUT_OF_MEMORY.test(code) || NO_ROOM.test(at.message)) return 'out-of-memory'
    at = at.cause
  }
  return null
}
