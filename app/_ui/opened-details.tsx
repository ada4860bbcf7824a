'use client'
import { type ReactNode, useState } from 'react'

/** What is folded away and made only when it is first opened: long lists cost nothing until somebody wants them. */
export function OpenedDetails({ summary, children }: { summary: ReactNode; children: () => ReactNode }) {
  const [isOpened, setOpened] = useState(false)
  return (
    <details onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary>{summary}</summary>
      {isOpened ? children() : null}
    </details>
  )
}
