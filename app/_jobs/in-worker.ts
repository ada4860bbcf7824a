import { type KeptThreads, keptThreads } from './kept-threads'
import { runTask } from './run-task'
import type { OnAccounted, OnProgress, OnRows, Task, TaskResult } from './task'
import { startThread } from './task-thread'

/** Does a task somewhere; tells how it goes, hands on the rows it makes, and an import before its options. */
export type RunTask = <T extends Task>(
  task: T,
  onProgress?: OnProgress,
  onRows?: OnRows,
  onAccounted?: OnAccounted,
) => Promise<TaskResult<T>>

// Next evaluates modules several times; the one thread that waits is where all of them see it.
const shared = globalThis as typeof globalThis & { tankwardThreads?: KeptThreads }

/**
 * Does a task off the thread that serves pages, where this runs in the server. In commands and tests, which serve nobody,
 * in this thread.
 */
export const inWorker: RunTask = async (...of) => {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return runTask(...of)
  shared.tankwardThreads ??= keptThreads((packs) => startThread(packs))
  return shared.tankwardThreads.run(...of)
}
