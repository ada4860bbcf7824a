import { type ErrorValues, TankwardError } from '@/lib/errors'

/** An error as it passes from one thread to another. */
export interface WorkerError {
  readonly kind: 'error'
  /** Null where it is not the project's own error but a fault. */
  readonly known: { readonly code: string; readonly values: ErrorValues } | null
  /** What Node or the system call a fault, where they do. */
  readonly faultCode: string | null
  readonly text: string
}

export function workerError(error: unknown): WorkerError {
  const { code, values } = error as { code?: unknown; values?: unknown }
  // By name: a bundler may give this thread a class of its own.
  const isKnown = error instanceof Error && error.name === 'TankwardError'
  return {
    kind: 'error',
    known: isKnown ? { code: String(code), values: values as ErrorValues } : null,
    faultCode: isKnown || code === undefined ? null : String(code),
    text: error instanceof Error ? (error.stack ?? error.message) : String(error),
  }
}

/** The error again, in the thread that asked. */
export function errorOf({ known, faultCode, text }: WorkerError): Error {
  if (known) return new TankwardError(known.code, known.values)
  return faultCode === null ? new Error(text) : Object.assign(new Error(text), { code: faultCode })
}
