import type { MessagePort } from 'node:worker_threads'
import type { Imported, Rows, Stage, Task, TaskResults } from './task'
import type { WorkerError } from './worker-error'

/** What an import packs: its samples are stored with the log, its account with the options. */
export type Packed = 'trace' | 'account'

/** What a thread tells the thread that started it. */
export type WorkerMessage =
  | { readonly kind: 'progress'; readonly stage: Stage; readonly progress: number }
  | { readonly kind: 'result'; readonly result: TaskResults[keyof TaskResults] }
  | { readonly kind: 'rows'; readonly rows: Rows }
  | { readonly kind: 'accounted'; readonly imported: Imported }
  | { readonly kind: 'packed'; readonly what: Packed }
  | WorkerError

/** What it is told: a task, to pack for the thread that does one, or that rows it sent are stored. */
export type ToWorker =
  | {
      readonly kind: 'task'
      readonly task: Task
      readonly inStages: boolean
      readonly packing: MessagePort | null
    }
  | { readonly kind: 'pack'; readonly from: MessagePort }
  | { readonly kind: 'rows-taken' }
