import { Worker } from 'node:worker_threads'
import { TankwardError } from '@/lib/errors'
import { runTask } from './run-task'
import type { OnProgress, Task, TaskResult } from './task'
import type { WorkerMessage } from './worker-message'

function inThread<T extends Task>(task: T, onProgress: OnProgress): Promise<TaskResult<T>> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./import-worker.ts', import.meta.url), { workerData: task })
    const end = (settle: () => void) => {
      settle()
      void worker.terminate()
    }
    worker.on('message', (message: WorkerMessage) => {
      if (message.kind === 'progress') onProgress(message.stage, message.progress)
      else if (message.kind === 'result') end(() => resolve(message.result as TaskResult<T>))
      else if (message.known)
        end(() => reject(new TankwardError(message.known?.code ?? '', message.known?.values)))
      else end(() => reject(new Error(message.text)))
    })
    worker.on('error', (error) => end(() => reject(error)))
    // A thread that dies of lack of memory says nothing else. After a result this changes nothing.
    worker.on('exit', (code) =>
      reject(new Error(`the worker thread ended with ${code} before its work was done`)),
    )
  })
}

/**
 * Does a task off the thread that serves pages, where this runs in the server (its bundler builds the thread's
 * file); in commands and tests, which serve nobody, in this thread.
 */
export function inWorker<T extends Task>(task: T, onProgress: OnProgress = () => {}): Promise<TaskResult<T>> {
  return process.env.NEXT_RUNTIME === 'nodejs' ? inThread(task, onProgress) : runTask(task, onProgress)
}
