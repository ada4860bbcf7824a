/** The other side could not be reached, or has no time just now: the same again may go well. */
export class ConnectionLost extends Error {
  constructor() {
    super('The connection was lost.')
  }
}

/** Waits between attempts; the last one is repeated. */
const WAITS_MS = [1000, 2000, 4000, 8000, 15_000, 30_000]

/** What servers and what stands before them answer while they are away or too busy. */
const AWAY = [408, 423, 429, 502, 503, 504]
export const isAway = (status: number): boolean => status === 0 || AWAY.includes(status)

/** Ends after `ms`, or when the browser says that it is connected again, or when it is no longer wanted. */
function pause(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const end = () => {
      clearTimeout(timer)
      globalThis.removeEventListener?.('online', end)
      signal.removeEventListener('abort', end)
      resolve()
    }
    const timer = setTimeout(end, ms)
    globalThis.addEventListener?.('online', end)
    signal.addEventListener('abort', end)
  })
}

export interface Persisting {
  readonly signal: AbortSignal
  /** Told when the connection is lost, and when something goes through again. */
  readonly onCut: (isCut: boolean) => void
}

/**
 * Tries until it goes well, with growing waits while the connection is lost.
 * @param attempt calls `moved` whenever something went through: the waits begin anew then
 * @throws what an attempt throws, other than ConnectionLost; the signal's reason once it is aborted
 */
export async function persist<T>(
  attempt: (moved: () => void) => Promise<T>,
  { signal, onCut }: Persisting,
): Promise<T> {
  let lost = 0
  const moved = () => {
    if (lost > 0) onCut(false)
    lost = 0
  }
  for (;;) {
    try {
      const result = await attempt(moved)
      moved()
      return result
    } catch (error) {
      signal.throwIfAborted()
      if (!(error instanceof ConnectionLost)) {
        moved()
        throw error
      }
      onCut(true)
      await pause(WAITS_MS[Math.min(lost, WAITS_MS.length - 1)], signal)
      signal.throwIfAborted()
      lost += 1
    }
  }
}
