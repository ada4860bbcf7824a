import { Worker } from 'node:worker_threads'
import type { RunTask } from './in-worker'
import { noRows } from './row-buffer'
import type { OnAccounted, OnProgress, OnRows, Rows, Task, TaskResult } from './task'
import { errorOf } from './worker-error'
import type { ToWorker, WorkerMessage } from './worker-message'

/** A thread that does tasks one after the other. */
export interface TaskThread {
  run: RunTask
  stop(): Promise<void>
}

function runOn<T extends Task>(
  worker: Worker,
  task: T,
  onProgress: OnProgress,
  onRows: OnRows,
  onAccounted: OnAccounted | undefined,
): Promise<TaskResult<T>> {
  return new Promise((resolve, reject) => {
    const tell = (message: ToWorker) => worker.postMessage(message)
    // What it hands over is taken piece by piece. Once that fails the rest is let go: the thread is heard to its end.
    let taking: Promise<void> = Promise.resolve()
    let fault: { readonly error: unknown } | null = null
    const take = (piece: () => Promise<void> | undefined) => {
      taking = taking.then(async () => {
        try {
          if (!fault) await piece()
        } catch (error) {
          fault = { error }
        }
      })
    }
    const takeRows = (rows: Rows) => {
      take(() => onRows(rows))
      taking = taking.then(() => tell({ kind: 'rows-taken' }))
    }
    const onMessage = (message: WorkerMessage) => {
      if (message.kind === 'progress') onProgress(message.stage, message.progress)
      else if (message.kind === 'rows') takeRows(message.rows)
      else if (message.kind === 'accounted') take(() => onAccounted?.(message.imported))
      else if (message.kind === 'result')
        settle(() => (fault ? reject(fault.error) : resolve(message.result as TaskResult<T>)))
      else settle(() => reject(errorOf(message)))
    }
    const onError = (error: unknown) => settle(() => reject(error))
    // A thread that dies of lack of memory may say nothing else.
    const onExit = (code: number) =>
      settle(() => reject(new Error(`worker thread ended with code ${code} before its work was done`)))
    const settle = (end: () => void) => {
      worker.off('message', onMessage).off('error', onError).off('exit', onExit)
      // Nothing may be stored any more once the task has ended, one way or the other.
      void taking.then(end)
    }
    worker.on('message', onMessage).on('error', onError).on('exit', onExit)
    tell({ kind: 'task', task, inStages: onAccounted !== undefined })
  })
}

/** The thread's file as the server's bundler builds it. */
const builtWorker = () => new Worker(new URL('./import-worker.ts', import.meta.url))

/**
 * Starts a thread for tasks.
 * @param worker a thread that runs import-worker
 */
export function startThread(worker: Worker = builtWorker()): TaskThread {
  let last: Promise<unknown> = Promise.resolve()
  return {
    run(task, onProgress = () => {}, onRows = noRows, onAccounted = undefined) {
      const done = last.then(() => runOn(worker, task, onProgress, onRows, onAccounted))
      last = done.catch(() => {})
      return done
    },
    stop: async () => {
      await worker.terminate()
    },
  }
}
