import type { Stage, TaskResults } from './task'
import type { WorkerError } from './worker-error'

/** What a worker thread tells the thread that started it. */
export type WorkerMessage =
  | { readonly kind: 'progress'; readonly stage: Stage; readonly progress: number }
  | { readonly kind: 'result'; readonly result: TaskResults[keyof TaskResults] }
  | WorkerError
