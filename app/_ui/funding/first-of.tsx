import Link from 'next/link'
import type { ReactNode } from 'react'
import { type FundingQuery, fundingAddress } from '@/app/_server/views/funding-query'
import { count } from '../format'
import { FIRST_ROWS } from '../long-lists'

/**
 * The first of many rows, which are in an order, and a link to all of them: hundreds of machines make a page that takes
 * seconds to arrive. @param at the part of the page to come back to @param of what the rows are, in the plural
 */
export function firstOf<Row>(
  rows: readonly Row[],
  query: FundingQuery,
  at: string,
  of: string,
): { shown: readonly Row[]; more: ReactNode } {
  if (query.isWhole || rows.length <= FIRST_ROWS) return { shown: rows, more: null }
  return {
    shown: rows.slice(0, FIRST_ROWS),
    more: (
      <p className="soft small">
        The first {count(FIRST_ROWS)} of {count(rows.length)}.{' '}
        <Link href={`${fundingAddress({ ...query, isWhole: true })}#${at}`}>
          Show all {count(rows.length)} {of}
        </Link>
      </p>
    ),
  }
}
