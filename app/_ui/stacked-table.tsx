import Link from 'next/link'
import type { ReactNode } from 'react'
import { Scroll } from './scroll'

/**
 * A table whose rows lie side by side where there is room, and beneath one another by name where there is none.
 * @param caption what is said above it; without one its label is heard alone
 * @param head cells of its head @param children rows, their cells with `data-label`
 */
export function StackedTable({
  label,
  caption,
  head,
  children,
}: {
  label: string
  caption?: ReactNode
  head: ReactNode
  children: ReactNode
}) {
  return (
    <Scroll label={label}>
      <table className="stacks">
        <caption className={caption ? undefined : 'sr'}>{caption ?? label}</caption>
        <thead>
          <tr>{head}</tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </Scroll>
  )
}

/** Head of a machine's row: its name, leading to its page. */
export function MachineHead({
  id,
  name,
  part = '',
  children,
}: {
  id: string
  name: string | undefined
  /** A part of the page, as in `#options`. */
  part?: string
  children?: ReactNode
}) {
  return (
    <th scope="row">
      <Link href={`/machines/${id}${part}`}>{name}</Link>
      {children}
    </th>
  )
}
