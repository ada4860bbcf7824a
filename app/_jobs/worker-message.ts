import type { ErrorValues } from '@/lib/errors'
import type { Stage, TaskResults } from './task'

/** What a worker thread tells the thread that started it. */
export type WorkerMessage =
  | { readonly kind: 'progress'; readonly stage: Stage; readonly progress: number }
  | { readonly kind: 'result'; readonly result: TaskResults[keyof TaskResults] }
  | {
      readonly kind: 'error'
      /** Null where it is not the project's own error but a fault. */
      readonly known: { readonly code: string; readonly values: ErrorValues } | null
      readonly text: string
    }
