'use client'
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import { FileCard } from './file-card'
import { canImport, isOver } from './upload-state'
import { useUploads } from './use-uploads'

export interface UploadPanelProps {
  readonly machines: readonly { readonly id: string; readonly name: string }[]
  readonly machineId: string
  readonly timeZone: string
}

/** Choose a machine, drop files, see what was understood, import. */
export function UploadPanel({ machines, machineId, timeZone }: UploadPanelProps) {
  const router = useRouter()
  const [isHovered, setHovered] = useState(false)
  const actions = useUploads(machineId)
  const { uploads, add, importAll } = actions
  const changes = uploads.filter((upload) => isOver(upload.stage)).length
  useEffect(() => {
    // The list of stored logs beneath comes from the server.
    if (changes) router.refresh()
  }, [changes, router])
  const ready = uploads.filter((upload) => canImport(upload.stage)).length
  return (
    <>
      <div className="sheet">
        <p>
          <label htmlFor="machine">Machine that was logged</label>
          <br />
          <select
            id="machine"
            value={machineId}
            onChange={(event) => {
              router.replace(event.target.value ? `/upload?machine=${event.target.value}` : '/upload')
            }}
          >
            <option value="">choose …</option>
            {machines.map((machine) => (
              <option key={machine.id} value={machine.id}>
                {machine.name}
              </option>
            ))}
          </select>
        </p>
        {machineId ? (
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
              add([...event.dataTransfer.files])
            }}
          >
            <p>Drop the logger’s CSV files here, or</p>
            <label className="button main">
              Choose files
              <input
                type="file"
                className="sr"
                multiple
                accept=".csv,.txt,.tsv,.gz,text/csv,text/plain"
                onChange={(event) => {
                  add([...(event.target.files ?? [])])
                  event.target.value = ''
                }}
              />
            </label>
            <p className="soft small" style={{ marginTop: '.6rem' }}>
              .csv or .csv.gz, as the logger wrote them. You see what was understood before anything is
              stored.
            </p>
          </div>
        ) : null}
      </div>
      {uploads.length ? (
        <div className="sheet">
          <div className="head" style={{ marginBottom: '.5rem' }}>
            <h2 style={{ margin: 0 }}>Files</h2>
            {ready > 1 ? (
              <button type="button" className="main" onClick={importAll}>
                Import all {ready}
              </button>
            ) : null}
          </div>
          {uploads.map((upload) => (
            <FileCard
              key={upload.key}
              upload={upload}
              machineId={machineId}
              timeZone={timeZone}
              actions={actions}
            />
          ))}
        </div>
      ) : null}
    </>
  )
}
