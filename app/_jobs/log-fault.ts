import { DrizzleQueryError } from 'drizzle-orm/errors'

/** Writes a fault to the server's log: of a failed query the database's words, not its parameters (whole chunks). */
export function logFault(what: string, error: unknown): void {
  if (error instanceof DrizzleQueryError)
    console.error(`${what}:`, error.query.slice(0, 200), error.cause ?? error.message.slice(0, 200))
  else console.error(`${what}:`, error)
}
