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

/**
 * Does a task off the thread that serves pages, where this runs in the server: each in new threads, whose
 * memory goes with them. In commands and tests, which serve nobody, in this thread.
 */
export const inWorker: RunTask = async (...of) => {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return runTask(...of)
  const thread = startThread(of[0].kind === 'import')
  try {
    return await thread.run(...of)
  } finally {
    await thread.stop()
  }
}
