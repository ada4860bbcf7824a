import type { Imported, Rows, Stage, Task, TaskResults } from './task'
import type { WorkerError } from './worker-error'

/** What a worker thread tells the thread that started it. */
export type WorkerMessage =
  | { readonly kind: 'progress'; readonly stage: Stage; readonly progress: number }
  | { readonly kind: 'result'; readonly result: TaskResults[keyof TaskResults] }
  | { readonly kind: 'rows'; readonly rows: Rows }
  | { readonly kind: 'accounted'; readonly imported: Imported }
  | WorkerError

/** What it is told: a task, or that rows it sent are stored. */
export type ToWorker =
  | { readonly kind: 'task'; readonly task: Task; readonly inStages: boolean }
  | { readonly kind: 'rows-taken' }
