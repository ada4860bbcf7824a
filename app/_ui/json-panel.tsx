'use client'
import { useId, useState } from 'react'

/** The same settings as JSON: read, copied, downloaded, pasted or loaded from a file. */
export function JsonPanel({
  title = 'As JSON: import, paste, download',
  about = 'The settings in this form, as the command and the API take them',
  json,
  fileName,
  onApply,
}: {
  title?: string
  about?: string
  json: unknown
  fileName: string
  /** Gives back what is wrong with it, or null where it was taken over. */
  onApply: (json: unknown) => string | null
}) {
  const id = useId()
  const current = JSON.stringify(json, null, 2)
  const [typed, setTyped] = useState<string | null>(null)
  const [said, setSaid] = useState<{ text: string; bad: boolean } | null>(null)
  const apply = (text: string) => {
    try {
      const wrong = onApply(JSON.parse(text))
      setSaid(
        wrong ? { text: wrong, bad: true } : { text: 'Taken over into the form; not saved yet.', bad: false },
      )
      if (!wrong) setTyped(null)
    } catch (error) {
      setSaid({ text: `Not JSON: ${error instanceof Error ? error.message : ''}`, bad: true })
    }
  }
  const download = () => {
    const url = URL.createObjectURL(new Blob([`${current}\n`], { type: 'application/json' }))
    const link = document.createElement('a')
    link.href = url
    link.download = fileName
    link.click()
    URL.revokeObjectURL(url)
  }
  return (
    <details className="sheet">
      <summary>{title}</summary>
      <div style={{ marginTop: '.6rem' }}>
        <label htmlFor={id}>{about}</label>
        <textarea
          id={id}
          className="json"
          spellCheck={false}
          value={typed ?? current}
          onChange={(event) => setTyped(event.target.value)}
        />
        <div className="actions">
          <button type="button" onClick={() => apply(typed ?? current)} disabled={typed === null}>
            Take over into the form
          </button>
          <button type="button" onClick={download}>
            Download {fileName}
          </button>
          <label className="button">
            Import a file
            <input
              type="file"
              accept=".json,application/json"
              className="sr"
              onChange={async (event) => {
                const file = event.target.files?.[0]
                event.target.value = ''
                if (file) {
                  const text = await file.text()
                  setTyped(text)
                  apply(text)
                }
              }}
            />
          </label>
        </div>
        <p className={said?.bad ? 'error' : 'soft'} role="status" style={{ whiteSpace: 'pre-line' }}>
          {said?.text}
        </p>
      </div>
    </details>
  )
}
