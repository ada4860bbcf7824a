/** How often a process says that its imports are alive, and after how long without it they count as dead. */
export const HEARTBEAT_MS = 15_000
const DEAD_AFTER_MS = 8 * HEARTBEAT_MS

/** Imports without a sign of life since this instant are dead. */
export function deadImportsBefore(now: Date): Date {
  return new Date(now.getTime() - DEAD_AFTER_MS)
}
