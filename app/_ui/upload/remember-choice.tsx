'use client'
import { useEffect, useState } from 'react'
import { Field } from '../field'
import type { LayoutDraft } from './answers'
import { authorName } from './author-name'

/** Whether the answers serve the next file of this layout too, and who gave them. */
export function RememberChoice({
  draft,
  onSay,
}: {
  draft: LayoutDraft
  onSay: (part: Partial<LayoutDraft>) => void
}) {
  const [name, setName] = useState('')
  useEffect(() => setName(authorName.get()), [])
  return (
    <div className="remember">
      <label>
        <input
          type="checkbox"
          checked={draft.remember}
          onChange={(event) => onSay({ remember: event.target.checked })}
        />
        <span>Remember for this logger’s layout on this machine: the next file is not asked about</span>
      </label>
      {draft.remember ? (
        <Field
          label="Your name"
          optional
          value={name}
          help="Stands beside what is remembered."
          onChange={(next) => {
            setName(next)
            authorName.set(next.trim())
          }}
        />
      ) : null}
    </div>
  )
}
