'use client'
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import { DropZone } from './drop-zone'
import { FileCard } from './file-card'
import { JoinFiles } from './join-files'
import { canImport, isBusy, isOver, type Uploads } from './upload-state'
import { add, importAll, moveTo, openOf, removeOver } from './upload-store'
import { useLeaveWarning, useUploads } from './use-uploads'

export interface UploadPanelProps {
  readonly machines: readonly { readonly id: string; readonly name: string }[]
  readonly machineId: string
  readonly timeZone: string
}

const some = (n: number, one: string, many: string) => (n ? [`${n} ${n === 1 ? one : many}`] : [])

/** Where the files stand, in one line that is read out as it changes. */
function tally(all: Uploads): string {
  const { uploads } = all
  const of = (test: (upload: Uploads['uploads'][number]) => boolean) => uploads.filter(test).length
  const asking = of((one) => one.stage === 'inspected' && openOf(all, one).length > 0)
  const words = [
    ...some(
      of(({ stage, isCut }) => isBusy(stage) && !isCut),
      'at work',
      'at work',
    ),
    ...some(
      of(({ isCut }) => isCut),
      'waiting for the connection',
      'waiting for the connection',
    ),
    ...some(of(({ stage }) => stage === 'inspected') - asking, 'ready to import', 'ready to import'),
    ...some(asking, 'with a question', 'with questions'),
    ...some(
      of(({ stage }) => stage === 'refused'),
      'not understood',
      'not understood',
    ),
    ...some(
      of(({ stage }) => stage === 'failed'),
      'failed',
      'failed',
    ),
    ...some(
      of(({ stage }) => stage === 'done'),
      'imported',
      'imported',
    ),
    ...some(
      of(({ stage }) => stage === 'duplicate'),
      'stored before',
      'stored before',
    ),
    ...some(
      of(({ stage }) => stage === 'undone'),
      'undone',
      'undone',
    ),
  ]
  return `${some(uploads.length, 'file', 'files')[0]}: ${words.join(', ')}.`
}

/** Choose a machine, drop files, see what was understood, answer what is open, import. */
export function UploadPanel({ machines, machineId, timeZone }: UploadPanelProps) {
  const router = useRouter()
  const all = useUploads()
  const [held, setHeld] = useState(false)
  const { uploads } = all
  useLeaveWarning(all)
  const changes = uploads.filter((upload) => isOver(upload.stage)).length
  useEffect(() => {
    // The list of stored logs beneath comes from the server.
    if (changes) router.refresh()
  }, [changes, router])
  const ready = uploads.filter((upload) => canImport(upload.stage)).length
  const nameOf = (id: string) => machines.find((machine) => machine.id === id)?.name ?? id
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
              const id = event.target.value
              if (id) moveTo(id)
              router.replace(id ? `/upload?machine=${id}` : '/upload')
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
        {machineId ? <DropZone onFiles={(files) => add(machineId, files)} /> : null}
      </div>
      {uploads.length ? (
        <div className="sheet">
          <div className="head" style={{ marginBottom: '.5rem' }}>
            <div>
              <h2 style={{ margin: 0 }}>Files</h2>
              <p role="status">{tally(all)}</p>
            </div>
            <div className="actions">
              {ready > 1 ? (
                <button type="button" className="main" onClick={() => setHeld(importAll() !== null)}>
                  Import all {ready}
                </button>
              ) : null}
              {changes > 1 ? (
                <button type="button" onClick={() => removeOver((upload) => isOver(upload.stage))}>
                  Take the {changes} that are over off this list
                </button>
              ) : null}
            </div>
          </div>
          {held && uploads.some((upload) => openOf(all, upload).length > 0) ? (
            <div className="note warn" role="alert">
              <p>Those without a question are on their way. The others wait for an answer below.</p>
            </div>
          ) : null}
          <JoinFiles uploads={uploads} />
          {uploads.map((upload) => (
            <FileCard
              key={upload.key}
              upload={upload}
              all={all}
              machineName={upload.machineId === machineId ? null : nameOf(upload.machineId)}
              timeZone={timeZone}
              isAlone={uploads.length === 1}
            />
          ))}
        </div>
      ) : null}
    </>
  )
}
