'use client'
import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react'
import type { MonthLogsAnswer } from '@/app/_server/month-logs-answer'
import { problemOf } from '../api'

export type MonthLogsOf = MonthLogsAnswer['machines'][number]

/** The logs of a month by machine; why they could not be read; null while they are read. */
export type MonthLogsState =
  | { readonly machines: ReadonlyMap<string, MonthLogsOf> }
  | { readonly why: string }
  | null

interface Shared {
  readonly state: MonthLogsState
  readonly read: () => void
}

const LogsContext = createContext<Shared>({ state: null, read: () => undefined })

/** The logs that a month stands on: asked for once, where the first of what lists them is opened. */
export function MonthLogs({ month, children }: { month: string; children: ReactNode }) {
  const [state, setState] = useState<MonthLogsState>(null)
  const isAsked = useRef(false)
  const shared = useMemo(() => {
    const ask = async (): Promise<MonthLogsState> => {
      const response = await fetch(`/api/months/${month}/logs`)
      if (!response.ok) return { why: await problemOf(response) }
      const answer: MonthLogsAnswer = await response.json()
      return { machines: new Map(answer.machines.map((one) => [one.machineId, one])) }
    }
    const read = () => {
      if (isAsked.current) return
      isAsked.current = true
      ask()
        .catch((): MonthLogsState => ({ why: 'The server cannot be reached.' }))
        .then((next) => {
          // What failed is asked for again when the next list is opened.
          if (next && 'why' in next) isAsked.current = false
          setState(next)
        })
    }
    return { state, read }
  }, [month, state])
  return <LogsContext value={shared}>{children}</LogsContext>
}

export function useMonthLogs(): MonthLogsState {
  const { state, read } = useContext(LogsContext)
  // Asked for when a list appears, not each time that another one has changed the state.
  const first = useRef(read)
  useEffect(() => first.current(), [])
  return state
}

/** What stands in the place of logs that are not there yet. */
export function LogsNotThere({ state }: { state: Exclude<MonthLogsState, { machines: unknown }> }) {
  return state ? <p className="nodata">{state.why}</p> : <p className="soft">Reading the logs …</p>
}
