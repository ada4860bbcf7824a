'use client'
import { createContext, type ReactNode, useContext, useEffect, useRef, useState } from 'react'

interface Opened {
  readonly title: string
  readonly content: ReactNode
}

const OpenContext = createContext<(opened: Opened) => void>(() => undefined)

/** Where figures of tables open: one dialog for all of them. */
export function OpensHere({ children }: { children: ReactNode }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const [opened, setOpened] = useState<Opened | null>(null)
  useEffect(() => {
    if (opened && !dialog.current?.open) dialog.current?.showModal()
  }, [opened])
  return (
    <OpenContext value={setOpened}>
      {children}
      <dialog
        ref={dialog}
        className="sheet opened"
        aria-label={opened?.title}
        onClose={() => setOpened(null)}
      >
        <header>
          <h2>{opened?.title}</h2>
          <button type="button" onClick={() => dialog.current?.close()}>
            Close
          </button>
        </header>
        {opened?.content}
      </dialog>
    </OpenContext>
  )
}

/** A figure of a table that opens to how it was reached. */
export function Opens({
  title,
  content,
  children,
}: {
  /** What the figure is, whose and of when. */
  title: string
  /** Made when it is opened. */
  content: () => ReactNode
  children: ReactNode
}) {
  const open = useContext(OpenContext)
  return (
    <button
      type="button"
      className="opens"
      aria-haspopup="dialog"
      title="How this was reached"
      onClick={() => open({ title, content: content() })}
    >
      {children}
    </button>
  )
}
