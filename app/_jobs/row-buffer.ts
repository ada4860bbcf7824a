import type { OnRows, Rows } from './task'

/** Rows go out when they weigh this much: a statement of it holds the embedded database for some 5 ms. */
const MOST_BYTES = 1 << 18

/** Rows on their way out, a few at a time, so that they never pile up. */
export interface RowBuffer {
  readonly rows: Rows
  /** Hands the rows on where they are many. */
  makeRoom(): Promise<void>
  /** Hands on what is left. */
  flush(): Promise<void>
}

const weight = (list: readonly { readonly bytes: Uint8Array }[]) =>
  list.reduce((sum, { bytes }) => sum + bytes.length, 0)

export function rowBuffer(onRows: OnRows): RowBuffer {
  const rows: Rows = { samples: [], envelope: [] }
  const flush = async () => {
    if (rows.samples.length + rows.envelope.length === 0) return
    await onRows({ samples: rows.samples.splice(0), envelope: rows.envelope.splice(0) })
  }
  return {
    rows,
    makeRoom: async () => {
      if (weight(rows.samples) + weight(rows.envelope) >= MOST_BYTES) await flush()
    },
    flush,
  }
}

/** Keeps all rows together, for whoever stores them at once. */
export function gatheredRows(): { readonly rows: Rows; readonly onRows: OnRows } {
  const rows: Rows = { samples: [], envelope: [] }
  return {
    rows,
    onRows: async ({ samples, envelope }) => {
      rows.samples.push(...samples)
      rows.envelope.push(...envelope)
    },
  }
}

/** For tasks that make no rows. */
export const noRows: OnRows = async () => {
  throw new Error('rows were made that nobody takes')
}
