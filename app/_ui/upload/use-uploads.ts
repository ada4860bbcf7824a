'use client'
import { useCallback, useEffect, useRef, useState } from 'react'
import { send } from '../api'
import { followLog, inspectFile, sendFile } from './transfer'
import { canImport, type Upload } from './upload-state'

/** The chosen files and what can be done with them; files are inspected and sent one after the other. */
export function useUploads(machineId: string) {
  const [uploads, setUploads] = useState<readonly Upload[]>([])
  const queue = useRef<Promise<void>>(Promise.resolve())
  const stops = useRef(new Map<string, AbortController>())

  const change = useCallback((key: string, part: Partial<Upload>) => {
    setUploads((now) => now.map((upload) => (upload.key === key ? { ...upload, ...part } : upload)))
  }, [])

  const inTurn = useCallback((key: string, work: (signal: AbortSignal) => Promise<void>) => {
    const stop = new AbortController()
    stops.current.set(key, stop)
    queue.current = queue.current.then(async () => {
      if (!stop.signal.aborted) await work(stop.signal)
      if (stops.current.get(key) === stop) stops.current.delete(key)
    })
  }, [])

  const inspect = useCallback(
    (upload: Upload) =>
      inTurn(upload.key, async (signal) => {
        change(upload.key, { stage: 'inspecting', progress: null, failure: null })
        try {
          const inspection = await inspectFile(machineId, upload.file, signal, (progress) =>
            change(upload.key, { progress }),
          )
          change(upload.key, { stage: 'inspected', inspection, progress: null })
        } catch (error) {
          if (!signal.aborted)
            change(upload.key, { stage: 'refused', failure: textOf(error), progress: null })
        }
      }),
    [machineId, inTurn, change],
  )

  const add = useCallback(
    (files: readonly File[]) => {
      const fresh = files.map(
        (file): Upload => ({
          key: `${file.name} ${file.size} ${file.lastModified} ${Math.random()}`,
          file,
          stage: 'waiting',
          progress: null,
          state: null,
          inspection: null,
          logId: null,
          failure: null,
        }),
      )
      setUploads((now) => [...now, ...fresh])
      for (const upload of fresh) inspect(upload)
    },
    [inspect],
  )

  const importOne = useCallback(
    (upload: Upload) => {
      change(upload.key, { stage: 'queued', progress: null, failure: null })
      inTurn(upload.key, async (signal) => {
        change(upload.key, { stage: 'sending', progress: 0 })
        try {
          const sent = await sendFile(machineId, upload.file, signal, (progress) =>
            change(upload.key, { progress }),
          )
          change(upload.key, { logId: sent.id, stage: 'working', progress: null, state: 'received' })
          await followLog(sent.id, signal, (state, progress) => change(upload.key, { state, progress }))
          change(upload.key, { stage: sent.isDuplicate ? 'duplicate' : 'done', progress: null })
        } catch (error) {
          if (!signal.aborted) change(upload.key, { stage: 'failed', failure: textOf(error), progress: null })
        }
      })
    },
    [machineId, inTurn, change],
  )

  const importAll = () => {
    for (const upload of uploads) if (canImport(upload.stage)) importOne(upload)
  }

  /** Stops what is going on; a log that has already arrived is deleted. */
  const cancel = async (upload: Upload) => {
    stops.current.get(upload.key)?.abort()
    try {
      if (upload.logId) await send('DELETE', `/api/logs/${upload.logId}`)
      change(upload.key, { stage: upload.inspection ? 'inspected' : 'undone', logId: null, progress: null })
    } catch (error) {
      change(upload.key, { stage: 'failed', failure: textOf(error), progress: null })
    }
  }

  const undo = async (upload: Upload) => {
    try {
      await send('DELETE', `/api/logs/${upload.logId}`)
      change(upload.key, { stage: 'undone', logId: null })
    } catch (error) {
      change(upload.key, { failure: textOf(error) })
    }
  }

  const remove = (upload: Upload) => {
    stops.current.get(upload.key)?.abort()
    setUploads((now) => now.filter(({ key }) => key !== upload.key))
  }

  // What was understood depends on the machine: another machine, another reading of the same files.
  const chosen = useRef(machineId)
  useEffect(() => {
    if (chosen.current === machineId) return
    chosen.current = machineId
    for (const upload of uploads) {
      if (upload.stage === 'inspected' || upload.stage === 'refused') inspect(upload)
    }
  }, [machineId, uploads, inspect])

  return { uploads, add, inspect, importOne, importAll, cancel, undo, remove }
}

const textOf = (error: unknown) => (error instanceof Error ? error.message : String(error))
