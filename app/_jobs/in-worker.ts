import { runTask } from './run-task'
import type { OnProgress, OnRows, Task, TaskResult } from './task'
import { startThread } from './task-thread'

/** Does a task somewhere; tells how it goes and hands on the rows it makes. */
export type RunTask = <T extends Task>(
  task: T,
  onProgress?: OnProgress,
  onRows?: OnRows,
) => Promise<TaskResult<T>>

/**
 * Does a task off the thread that serves pages, where this runs in the server: each in a new thread, whose
 * memory goes with it. In commands and tests, which serve nobody, in this thread.
 */
export const inWorker: RunTask = async (task, onProgress, onRows) => {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return runTask(task, onProgress, onRows)
  const thread = startThread()
  try {
    return await thread.run(task, onProgress, onRows)
  } finally {
    await thread.stop()
  }
}
