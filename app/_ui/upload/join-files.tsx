'use client'
import { useState } from 'react'
import { canImport, nameOf, type Upload } from './upload-state'
import { join } from './upload-store'

/** Files that wait on the list as files of one recording: two loggers on a machine, or one recording cut into files. */
export function JoinFiles({ uploads }: { uploads: readonly Upload[] }) {
  // Two files can only mean each other; of more a person says which.
  const [said, setSaid] = useState<ReadonlySet<string> | null>(null)
  const waiting = uploads.filter(({ stage }) => canImport(stage) || stage === 'refused')
  const [first] = waiting
  const able = waiting.filter(({ machineId }) => machineId === first.machineId)
  if (able.length < 2) return null
  const ticked = said ?? new Set(able.length === 2 ? able.map(({ key }) => key) : [])
  const chosen = able.filter(({ key }) => ticked.has(key))
  const toggle = (key: string) =>
    setSaid(new Set(ticked.has(key) ? [...ticked].filter((one) => one !== key) : [...ticked, key]))
  return (
    <details className="twin">
      <summary>Several files are one recording</summary>
      <p className="soft">
        Two loggers on the same machine, or a recording that was cut into files. They are joined in time;
        where the clocks of two loggers are apart, you are asked. Every file is kept.
      </p>
      {able.map((upload) => (
        <label key={upload.key} style={{ display: 'block' }}>
          <input type="checkbox" checked={ticked.has(upload.key)} onChange={() => toggle(upload.key)} />{' '}
          {nameOf(upload)}
        </label>
      ))}
      <p>
        <button type="button" disabled={chosen.length < 2} onClick={() => join(chosen)}>
          {chosen.length < 2 ? 'Join the files ticked' : `Join ${chosen.length} files into one recording`}
        </button>
      </p>
    </details>
  )
}
