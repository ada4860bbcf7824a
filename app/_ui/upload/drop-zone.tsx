'use client'
import { useState } from 'react'

/** Takes files by dropping or by choosing. */
export function DropZone({ onFiles }: { onFiles: (files: readonly File[]) => void }) {
  const [isHovered, setHovered] = useState(false)
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is an extra; the button inside does the same
    <div
      className={isHovered ? 'drop over' : 'drop'}
      onDragOver={(event) => {
        event.preventDefault()
        setHovered(true)
      }}
      onDragLeave={() => setHovered(false)}
      onDrop={(event) => {
        event.preventDefault()
        setHovered(false)
        onFiles([...event.dataTransfer.files])
      }}
    >
      <p className="by-mouse">Drop the logger’s files here, or</p>
      <label className="button main">
        Choose files
        <input
          type="file"
          className="sr"
          multiple
          accept=".csv,.txt,.tsv,.gz,.xlsx,text/csv,text/plain"
          onChange={(event) => {
            onFiles([...(event.target.files ?? [])])
            event.target.value = ''
          }}
        />
      </label>
      <p className="soft small" style={{ marginTop: '.6rem' }}>
        .csv, .txt, .csv.gz or .xlsx, as the logger wrote them; several at once. You see what was understood
        before anything is stored.
      </p>
    </div>
  )
}
