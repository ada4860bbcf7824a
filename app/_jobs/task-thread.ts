import { Worker } from 'node:worker_threads'
import type { OnProgress, Task, TaskResult } from './task'
import { errorOf } from './worker-error'
import type { WorkerMessage } from './worker-message'

/** A thread that does tasks one after the other. */
export interface TaskThread {
  run<T extends Task>(task: T, onProgress: OnProgress): Promise<TaskResult<T>>
  stop(): Promise<void>
}

function runOn<T extends Task>(worker: Worker, task: T, onProgress: OnProgress): Promise<TaskResult<T>> {
  return new Promise((resolve, reject) => {
    const onMessage = (message: WorkerMessage) => {
      if (message.kind === 'progress') onProgress(message.stage, message.progress)
      else if (message.kind === 'result') settle(() => resolve(message.result as TaskResult<T>))
      else settle(() => reject(errorOf(message)))
    }
    const onError = (error: unknown) => settle(() => reject(error))
    // A thread that dies of lack of memory may say nothing else.
    const onExit = (code: number) =>
      settle(() => reject(new Error(`worker thread ended with code ${code} before its work was done`)))
    const settle = (end: () => void) => {
      worker.off('message', onMessage).off('error', onError).off('exit', onExit)
      end()
    }
    worker.on('message', onMessage).on('error', onError).on('exit', onExit)
    worker.postMessage(task)
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
    run(task, onProgress) {
      const done = last.then(() => runOn(worker, task, onProgress))
      last = done.catch(() => {})
      return done
    },
    stop: async () => {
      await worker.terminate()
    },
  }
}
