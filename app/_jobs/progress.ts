import type { LogState } from '@/db/schema/logs'
import { logFault } from './log-fault'

const WRITE_EVERY_MS = 500

export interface Progress {
  /** Called as often as one likes; written at each change of state and twice a second. */
  report(state: LogState, share: number): void
  /** Resolves when what was reported is written, so that nothing late overwrites what follows. */
  settled(): Promise<void>
}

/**
 * Passes progress on to the database without flooding it. A write that fails is not a failed import.
 * @param now clock in ms
 */
export function progressTo(
  write: (state: LogState, share: number) => Promise<void>,
  now: () => number = Date.now,
): Progress {
  let lastState: LogState | null = null
  let lastMs = Number.NEGATIVE_INFINITY
  let writing: Promise<void> = Promise.resolve()
  return {
    report(state, share) {
      if (state === lastState && now() - lastMs < WRITE_EVERY_MS) return
      lastState = state
      lastMs = now()
      writing = writing
        .then(() => write(state, share))
        .catch((error) => logFault('progress not written', error))
    },
    settled: () => writing,
  }
}
