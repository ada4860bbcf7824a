import type { ReactNode } from 'react'
import { Key } from './key'

/** What the colours of a drawing mean, in the order in which they are drawn; `children` are entries without a colour. */
export function Legend({
  label,
  entries,
  children,
}: {
  label: string
  entries: readonly { readonly token: string; readonly label: string; readonly meaning: string }[]
  children?: ReactNode
}) {
  return (
    <ul className="legend" aria-label={label}>
      {entries.map(({ token, label: name, meaning }) => (
        <li key={token} title={meaning}>
          <Key token={token} />
          {name}
        </li>
      ))}
      {children}
    </ul>
  )
}
