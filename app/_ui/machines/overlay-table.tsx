import { Fragment, type ReactNode } from 'react'
import type { OverlaidMachine } from '@/app/_server/views/overlay-view'
import { Key } from '../key'
import { NumHead } from '../num-head'
import { Scroll } from '../scroll'

/** Parts of a whole, machine beside machine: a bar of all of them, then each with its figure. */
export function OverlayTable<Name extends string>({
  label,
  caption,
  first,
  machines,
  unit,
  bar,
  rows,
  cell,
  children,
}: {
  label: string
  caption: ReactNode
  /** Head of the first column. */
  first: string
  machines: readonly OverlaidMachine[]
  unit: (nth: number) => string
  bar: (machine: OverlaidMachine, nth: number) => ReactNode
  rows: readonly { readonly key: Name; readonly token: string; readonly label: string }[]
  /** A whole cell. */
  cell: (machine: OverlaidMachine, nth: number, key: Name) => ReactNode
  /** Further rows. */
  children?: ReactNode
}) {
  return (
    <Scroll label={label}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">{first}</th>
            {machines.map(({ id, name }, nth) => (
              <NumHead key={id} name={name} unit={unit(nth)} />
            ))}
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">All</th>
            {machines.map((machine, nth) => (
              <td key={machine.id}>{bar(machine, nth)}</td>
            ))}
          </tr>
          {rows.map((row) => (
            <tr key={row.key}>
              <th scope="row">
                <Key token={row.token} />
                {row.label}
              </th>
              {machines.map((machine, nth) => (
                <Fragment key={machine.id}>{cell(machine, nth, row.key)}</Fragment>
              ))}
            </tr>
          ))}
          {children}
        </tbody>
      </table>
    </Scroll>
  )
}
