import { useCallback, useEffect, useRef, useState } from 'react'
import type { LiveAnswer, LiveState } from '@/app/_server/shapes'
import type { OptionId } from '@/lib/contract/option-result'
import { authHeaders, problemOf } from '../api'

export type Settings = Readonly<Record<string, number>>

/** How long to wait until a log that is being taken up is asked for again, ms. */
const AGAIN_MS = 700

export interface Replay {
  /** The last answer; null until there is one. */
  readonly live: LiveAnswer | null
  /** The answer with nothing moved. */
  readonly unmoved: LiveAnswer | null
  /** What is waited for; null where nothing is. */
  readonly pending: LiveState['state'] | 'replaying' | null
  readonly failure: string | null
}

async function replay(
  logId: string,
  option: OptionId,
  settings: Settings,
): Promise<LiveAnswer | LiveState | { readonly state: 'failed'; readonly why: string }> {
  try {
    const answer = await fetch(`/api/logs/${logId}/options/${option}`, {
      method: 'POST',
      headers: { ...authHeaders(), 'content-type': 'application/json' },
      body: JSON.stringify({ settings }),
    })
    if (!answer.ok) return { state: 'failed', why: await problemOf(answer) }
    return (await answer.json()) as LiveAnswer | LiveState
  } catch {
    return { state: 'failed', why: 'The server cannot be reached.' }
  }
}

/**
 * Has an option replayed with moved settings: one request at a time, and of those that come meanwhile the last.
 * A log that the server has yet to take up is asked for again until it has.
 */
export function useReplay(logId: string, option: OptionId): Replay & { ask(settings: Settings): void } {
  const [state, setState] = useState<Replay>({ live: null, unmoved: null, pending: null, failure: null })
  const desk = useRef({ wanted: null as Settings | null, isBusy: false, isGone: false })
  useEffect(() => {
    desk.current.isGone = false
    return () => {
      desk.current.isGone = true
    }
  }, [])
  const ask = useCallback(
    async (settings: Settings) => {
      const own = desk.current
      own.wanted = settings
      if (own.isBusy) return
      own.isBusy = true
      setState((now) => ({ ...now, pending: 'replaying' }))
      while (own.wanted && !own.isGone) {
        const wanted: Settings = own.wanted
        own.wanted = null
        const answer = await replay(logId, option, wanted)
        if (answer.state !== 'replayed' && answer.state !== 'failed') {
          own.wanted ??= wanted
          setState((now) => ({ ...now, pending: answer.state }))
          await new Promise((resolve) => setTimeout(resolve, AGAIN_MS))
          continue
        }
        const pending = own.wanted ? 'replaying' : null
        if (answer.state === 'replayed')
          setState(({ unmoved }) => ({
            live: answer,
            unmoved: Object.keys(wanted).length ? unmoved : answer,
            pending,
            failure: null,
          }))
        else setState((now) => ({ ...now, pending, failure: answer.why }))
      }
      own.isBusy = false
    },
    [logId, option],
  )
  return { ...state, ask }
}
