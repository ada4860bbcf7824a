'use client'
import { useId } from 'react'
import type { ColumnAnswer } from '@/app/_server/inspection-shapes'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'
import { columnsFault, type LayoutDraft } from './answers'
import { type ColumnDraft, draftsOf, partsOf, suggestedDrafts } from './column-draft'
import { ColumnList } from './column-list'

const FAULTS = {
  'no-pump-pressure':
    'No column is the pressure at the pump outlet: choose it, the account of every kilowatt rests on it.',
  ends: 'A raw signal lacks its ends.',
} as const

/** Why a person is to look at the columns, from the question's own word for it. */
function reason(example: string | null): string {
  if (example === 'no-pump-pressure')
    return 'No column is known to be the pressure at the pump outlet. Which is it? Where another file of the same recording holds it, say above that they are one recording.'
  if (example === 'in-order')
    return 'The file has no header: its columns were taken in the order of the machine’s data. Are they right?'
  return 'What is marked “guessed” was told from the readings alone. Is it right?'
}

const summaryOf = (drafts: readonly ColumnDraft[]) =>
  drafts
    .flatMap(({ use }) => {
      const parts = partsOf(use)
      return parts
        ? [`${QUANTITY_NAMES[parts.quantity].toLowerCase()} at ${LOCATION_NAMES[parts.location]}`]
        : []
    })
    .join(', ')

/** The file's columns: folded away where they are clear, asked about where they are not. */
export function ColumnsSection({
  columns,
  draft,
  question,
  isRefused,
  isReadSo,
  isMissing,
  onSay,
}: {
  columns: readonly ColumnAnswer[]
  draft: LayoutDraft | undefined
  /** What is asked of them; undefined where nothing is. */
  question: { readonly example: string | null } | undefined
  isRefused: boolean
  /** Whether the columns as shown are those that the person has chosen. */
  isReadSo: boolean
  isMissing: boolean
  onSay: (part: Partial<LayoutDraft>) => void
}) {
  const id = useId()
  const before = draftsOf(columns)
  const drafts = draft?.columns ?? before
  const isChanged = (one: ColumnDraft) =>
    JSON.stringify(one) !== JSON.stringify(before.find(({ index }) => index === one.index))
  const changed = new Set(isReadSo ? [] : drafts.filter(isChanged).map(({ index }) => index))
  const suggested = isRefused && !draft?.columns ? suggestedDrafts(columns) : []
  const told = suggested.filter(({ use }) => use !== '').length
  const isAsked = question !== undefined || isRefused
  const fault = draft?.columns || isRefused ? columnsFault(drafts) : null
  const list = (
    <ColumnList
      columns={columns}
      drafts={drafts}
      changed={changed}
      onChange={(next) => onSay({ columns: next, columnsRight: isRefused })}
    />
  )
  if (!isAsked)
    return (
      <details className="twin" open={changed.size > 0 ? true : undefined}>
        <summary>Columns: {summaryOf(drafts) || 'none used'}</summary>
        {list}
        {fault ? <p className="error">{FAULTS[fault]}</p> : null}
      </details>
    )
  return (
    <fieldset className="question" data-open={draft?.columnsRight && !fault ? undefined : true}>
      <legend>{isRefused ? 'What do the columns hold?' : reason(question?.example ?? null)}</legend>
      {told > 0 ? (
        <p>
          Names and units speak of {told === 1 ? 'one sensor' : `${told} sensors`}.{' '}
          <button type="button" onClick={() => onSay({ columns: suggested, columnsRight: true })}>
            Take them as they are named
          </button>
        </p>
      ) : null}
      {list}
      {fault && (isMissing || changed.size > 0 || isRefused) ? (
        <p className="error">{FAULTS[fault]}</p>
      ) : null}
      {isRefused ? null : (
        <label>
          <input
            type="checkbox"
            checked={draft?.columnsRight ?? false}
            aria-invalid={isMissing ? true : undefined}
            aria-describedby={isMissing ? `${id}-missing` : undefined}
            onChange={(event) => onSay({ columns: drafts, columnsRight: event.target.checked })}
          />
          <span>The columns are right as shown</span>
        </label>
      )}
      {isMissing ? (
        <p className="error" id={`${id}-missing`}>
          Look the columns over and say that they are right.
        </p>
      ) : null}
    </fieldset>
  )
}
