'use client'
import { type ReactNode, useState } from 'react'
import { count } from './format'
import { FIRST_ROWS } from './long-lists'

/** The first of many rows, which are in an order, and a button for the rest. @param of what the rows are, in the plural */
export function useFirstRows<Row>(
  rows: readonly Row[],
  of: string,
): { shown: readonly Row[]; more: ReactNode } {
  const [isAll, setAll] = useState(false)
  if (isAll || rows.length <= FIRST_ROWS) return { shown: rows, more: null }
  return {
    shown: rows.slice(0, FIRST_ROWS),
    more: (
      <p className="soft small">
        The first {count(FIRST_ROWS)} of {count(rows.length)}.{' '}
        <button type="button" onClick={() => setAll(true)}>
          Show all {count(rows.length)} {of}
        </button>
      </p>
    ),
  }
}
