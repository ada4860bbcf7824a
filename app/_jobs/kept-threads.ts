import type { RunTask } from './in-worker'
import { filesOf, type Task } from './task'
import type { TaskThread } from './task-thread'

/** How long a thread waits for its next job: from a file's inspection to its import, and on to the next file. */
const KEPT_MS = 300_000
/**
 * What a job may have had in memory for its thread to be kept, in bytes: a shift at 100 Hz. What a waiting thread holds is
 * given back with its next job or its end: a quarter of a GB as it is, and after such a job as much again.
 */
const MOST_KEPT_BYTES = 2e8
/** How much longer a packed file may be when it is unpacked: digits become four to ten times shorter. */
const UNPACKED = 10
const BYTES_A_VALUE = 8

/** Roughly what a job's recording takes. */
function bytesOf(task: Task): number {
  if (task.kind === 'analyse') {
    const { sampleCount, channels } = task.stored
    return sampleCount * (channels.length + 1) * BYTES_A_VALUE
  }
  return filesOf(task.file).reduce(
    (sum, { diskBytes, isPacked }) => sum + diskBytes * (isPacked ? UNPACKED : 1),
    0,
  )
}

export interface KeptThreads {
  /** Does a task in the thread that waits, else in a new one. */
  readonly run: RunTask
  /** Ends the thread that waits, if any. */
  stop(): Promise<void>
}

/**
 * Threads that stay for the next job: their code is loaded and compiled by then.
 * Jobs that run at once have a thread each, of which one is kept; one that failed at a job is not used again.
 * @param start starts a thread, for an import first or for anything else
 */
export function keptThreads(start: (packs: boolean) => TaskThread, keptMs = KEPT_MS): KeptThreads {
  let waiting: TaskThread | null = null
  let ending: NodeJS.Timeout | undefined
  const take = (): TaskThread | null => {
    clearTimeout(ending)
    const thread = waiting
    waiting = null
    return thread
  }
  const stop = async () => {
    await take()?.stop()
  }
  const keep = (thread: TaskThread) => {
    waiting = thread
    thread.rest()
    ending = setTimeout(() => void stop(), keptMs)
    ending.unref()
  }
  return {
    run: async (...of) => {
      const found = take()
      // One that died meanwhile has nothing left to stop.
      const thread = found?.isAlive() ? found : start(of[0].kind === 'import')
      let isSound = false
      try {
        const result = await thread.run(...of)
        isSound = bytesOf(of[0]) <= MOST_KEPT_BYTES
        return result
      } finally {
        if (isSound && !waiting) keep(thread)
        else await thread.stop()
      }
    },
    stop,
  }
}
