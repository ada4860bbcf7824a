'use client'
import { type ReactNode, useEffect, useRef } from 'react'

/** Rows of a form that are added and removed; the keyboard goes to the entries of a new row, and back after a removal. */
export function RowList<Row extends { readonly key: string }>({
  rows,
  one,
  make,
  onChange,
  children,
}: {
  rows: readonly Row[]
  /** One of them, for buttons and names: "band". */
  one: string
  make: () => Row
  onChange: (rows: readonly Row[]) => void
  children: (row: Row, change: (part: Partial<Row>) => void, index: number) => ReactNode
}) {
  const list = useRef<HTMLDivElement>(null)
  const adder = useRef<HTMLButtonElement>(null)
  const added = useRef<string | null>(null)
  useEffect(() => {
    if (added.current === null) return
    const place = [...(list.current?.children ?? [])].find(
      (child) => child.getAttribute('data-row') === added.current,
    )
    place?.querySelector<HTMLElement>('input, select')?.focus()
    added.current = null
  })
  const name = (index: number) => `${one[0].toUpperCase()}${one.slice(1)} ${index + 1}`
  return (
    <>
      <div ref={list} className="rows">
        {rows.map((row, index) => (
          <section key={row.key} data-row={row.key} className="file" aria-label={name(index)}>
            {children(
              row,
              (part) => onChange(rows.map((other) => (other === row ? { ...other, ...part } : other))),
              index,
            )}
            <button
              type="button"
              className="plain"
              aria-label={`Remove ${one} ${index + 1}`}
              onClick={() => {
                onChange(rows.filter((other) => other !== row))
                adder.current?.focus()
              }}
            >
              Remove this {one}
            </button>
          </section>
        ))}
      </div>
      <button
        ref={adder}
        type="button"
        onClick={() => {
          const row = make()
          added.current = row.key
          onChange([...rows, row])
        }}
      >
        Add {/^[aeiou]/.test(one) ? 'an' : 'a'} {one}
      </button>
    </>
  )
}
