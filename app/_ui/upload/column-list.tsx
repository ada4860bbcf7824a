'use client'
import { useId } from 'react'
import type { ColumnAnswer } from '@/app/_server/inspection-shapes'
import { confidences, evidenceSources, unusedReasons } from '@/app/_words/en/columns'
import type { Unit } from '@/lib/units'
import { LOCATION_NAMES, QUANTITY_NAMES, UNITS_OF } from '../labels'
import { type ColumnDraft, draftFault, isRaw, partsOf, roleOf, USES, withUnit, withUse } from './column-draft'

/** Why a column is what it is, in a few words. */
function why({ evidence, unused }: ColumnAnswer): string {
  if (!evidence) return unused ? unusedReasons[unused] : ''
  const { quantity, location, unit, confidence } = evidence
  if (confidence === 'declared' && quantity === 'declared') return 'Confirmed by a person'
  const told = [
    `quantity from ${evidenceSources[quantity]}`,
    location === 'only-one' ? '' : `place from ${evidenceSources[location]}`,
    unit === 'only-one' ? '' : `unit from ${evidenceSources[unit]}`,
  ]
  return told.filter(Boolean).join(', ')
}

const ENDS = [
  ['rawLow', 'Signal from'],
  ['rawHigh', 'to'],
  ['low', 'means'],
  ['high', 'to'],
] as const

const FAULTS = {
  'ends-missing': 'Enter all four numbers, for example 4, 20, 0 and 250.',
  'ends-equal': 'The two ends must differ.',
} as const

function ColumnRow({
  column,
  draft,
  isChanged,
  onChange,
}: {
  column: ColumnAnswer
  draft: ColumnDraft
  isChanged: boolean
  onChange: (draft: ColumnDraft) => void
}) {
  const id = useId()
  const parts = partsOf(draft.use)
  const confidence = isChanged ? 'declared' : column.evidence?.confidence
  const fault = draftFault(draft)
  const writtenUnit = column.unitText ? `${column.unitText}, as the header says` : 'told from the values'
  return (
    <li className="column-row" data-confidence={confidence ?? 'none'}>
      <div>
        <strong id={`${id}-name`}>{column.column}</strong>
        <span className="how">
          {column.examples.length
            ? `e.g. ${column.examples.join(' · ')}`
            : 'no readings at the top of the file'}
        </span>
      </div>
      <div className="entry">
        <label className="sr" htmlFor={`${id}-use`}>
          What “{column.column}” is
        </label>
        <select
          id={`${id}-use`}
          value={draft.use}
          onChange={(event) => onChange(withUse(draft, event.target.value, column))}
        >
          <option value="">not used</option>
          {USES.map(([quantity, locations]) => (
            <optgroup key={quantity} label={QUANTITY_NAMES[quantity]}>
              {locations.map((location) => (
                <option key={location} value={roleOf(quantity, location)}>
                  {QUANTITY_NAMES[quantity]}: {LOCATION_NAMES[location]}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
        {parts && UNITS_OF[parts.quantity].length > 1 ? (
          <>
            <label className="sr" htmlFor={`${id}-unit`}>
              Unit of “{column.column}”
            </label>
            <select
              id={`${id}-unit`}
              value={draft.unit}
              onChange={(event) => onChange(withUnit(draft, event.target.value as Unit | ''))}
            >
              {draft.unit === '' || column.unitQuantity === parts.quantity ? (
                <option value="">{writtenUnit}</option>
              ) : null}
              {UNITS_OF[parts.quantity].map((unit) => (
                <option key={unit} value={unit}>
                  {unit}
                </option>
              ))}
            </select>
          </>
        ) : null}
      </div>
      <div>
        <span className="mark" data-confidence={confidence ?? 'none'}>
          {isChanged ? 'changed' : confidence ? confidences[confidence] : 'not used'}
        </span>
        <span className="how">{isChanged ? 'Chosen here just now' : why(column)}</span>
      </div>
      {parts && parts.quantity !== 'voltage' && isRaw(column) ? (
        <fieldset className="ends">
          <legend>Raw signal in {column.unitText ?? 'its own unit'}</legend>
          {ENDS.map(([key, label]) => (
            <label key={key}>
              {label}{' '}
              <input
                inputMode="decimal"
                size={5}
                value={draft[key]}
                aria-invalid={fault ? true : undefined}
                aria-describedby={fault ? `${id}-fault` : undefined}
                onChange={(event) => onChange({ ...draft, [key]: event.target.value })}
              />
            </label>
          ))}
          <span>{draft.unit || UNITS_OF[parts.quantity][0]}</span>
          {fault ? (
            <p className="error" id={`${id}-fault`}>
              {FAULTS[fault]}
            </p>
          ) : null}
        </fieldset>
      ) : null}
    </li>
  )
}

/** Columns that nobody would take for a sensor. */
const isAside = ({ channel, unused }: ColumnAnswer) =>
  channel === null &&
  unused !== 'raw-signal' &&
  unused !== 'extra' &&
  unused !== 'not-declared' &&
  unused !== 'not-recognised'

/** All columns of a file with what was understood of each and why, each to be changed. */
export function ColumnList({
  columns,
  drafts,
  changed,
  onChange,
}: {
  columns: readonly ColumnAnswer[]
  drafts: readonly ColumnDraft[]
  /** Places of the columns that were changed here. */
  changed: ReadonlySet<number>
  onChange: (drafts: readonly ColumnDraft[]) => void
}) {
  const rowOf = (column: ColumnAnswer) => {
    const at = drafts.findIndex(({ index }) => index === column.index)
    if (at < 0) return null
    return (
      <ColumnRow
        key={column.index}
        column={column}
        draft={drafts[at]}
        isChanged={changed.has(column.index)}
        onChange={(draft) => onChange(drafts.map((one, nth) => (nth === at ? draft : one)))}
      />
    )
  }
  const main = columns.filter((column) => !isAside(column))
  const aside = columns.filter(isAside)
  return (
    <>
      <ul className="column-rows" aria-label="Columns as understood">
        {main.map(rowOf)}
      </ul>
      {aside.length ? (
        <details className="twin">
          <summary>
            {aside.length === 1
              ? '1 column that is no reading'
              : `${aside.length} columns that are no readings`}
            :{' '}
            {aside
              .slice(0, 4)
              .map(({ column }) => column)
              .join(', ')}
            {aside.length > 4 ? ' …' : ''}
          </summary>
          <ul className="column-rows" aria-label="Columns that are no readings">
            {aside.map(rowOf)}
          </ul>
        </details>
      ) : null}
    </>
  )
}
