'use client'
import { compareNames } from '@/app/_ui/name-order'
import type { AddressState } from './address-state'
import type { Column } from './column'

/** Search and choices that narrow the rows. */
export function FilterTools<Row>({
  columns,
  rows,
  state,
  onChange,
}: {
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  state: AddressState
  onChange: (part: Partial<AddressState>) => void
}) {
  const isNarrowed = state.search !== '' || Object.keys(state.choices).length > 0
  return (
    <>
      <label>
        Search{' '}
        <input
          type="search"
          value={state.search}
          onChange={(event) => onChange({ search: event.target.value })}
        />
      </label>
      {columns
        .filter((column) => column.choice)
        .map((column) => {
          const present = [...new Set(rows.map((row) => column.value(row)))]
            .filter((value) => value !== null)
            .map(String)
            .sort(compareNames)
          if (present.length < 2 && !state.choices[column.id]) return null
          return (
            <label key={column.id}>
              {column.header}{' '}
              <select
                value={state.choices[column.id] ?? ''}
                onChange={(event) => {
                  const { [column.id]: _dropped, ...others } = state.choices
                  const value = event.target.value
                  onChange({ choices: value ? { ...others, [column.id]: value } : others })
                }}
              >
                <option value="">all</option>
                {present.map((value) => (
                  <option key={value}>{value}</option>
                ))}
              </select>
            </label>
          )
        })}
      {isNarrowed ? (
        <button type="button" onClick={() => onChange({ search: '', choices: {} })}>
          Clear
        </button>
      ) : null}
    </>
  )
}

/** How the rows are laid out: grouped by what, and with which columns. */
export function ColumnTools<Row>({
  columns,
  state,
  visible,
  onChange,
}: {
  columns: readonly Column<Row>[]
  state: AddressState
  visible: readonly string[]
  onChange: (part: Partial<AddressState>) => void
}) {
  const groups = columns.filter((column) => column.group)
  return (
    <>
      {groups.length ? (
        <label>
          Group by{' '}
          <select
            value={state.group ?? ''}
            onChange={(event) => onChange({ group: event.target.value || null })}
          >
            <option value="">nothing</option>
            {groups.map((column) => (
              <option key={column.id} value={column.id}>
                {column.header.toLowerCase()}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      <details>
        <summary>Columns</summary>
        <fieldset className="actions" style={{ border: 0, margin: 0 }}>
          <legend className="sr">Columns shown</legend>
          {columns.slice(1).map((column) => (
            <label key={column.id}>
              <input
                type="checkbox"
                checked={visible.includes(column.id)}
                onChange={(event) =>
                  onChange({
                    columns: columns
                      .map(({ id }) => id)
                      .filter((id) => (id === column.id ? event.target.checked : visible.includes(id))),
                  })
                }
              />{' '}
              {column.header}
            </label>
          ))}
        </fieldset>
      </details>
    </>
  )
}
