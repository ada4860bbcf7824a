import { DrizzleQueryError } from 'drizzle-orm/errors'

/** What the database said, with its code; the embedded one hangs the query's parameters on it too. */
function saidBy(cause: unknown): string {
  if (!(cause instanceof Error)) return ''
  const code = 'code' in cause ? ` (${cause.code})` : ''
  return `${cause.stack ?? cause.message}${code}`
}

/** Writes a fault to the server's log: of a failed query the database's words, not its parameters (whole chunks). */
export function logFault(what: string, error: unknown): void {
  if (error instanceof DrizzleQueryError)
    console.error(`${what}:`, error.query.slice(0, 200), saidBy(error.cause) || error.message.slice(0, 200))
  else console.error(`${what}:`, error)
}
