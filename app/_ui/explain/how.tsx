'use client'
import { useEffect, useRef, useState } from 'react'
import type { DescribedExplanation } from '@/app/_words/describe-explanation'
import { problemOf } from '../api'
import { ExplanationView } from './explanation-view'

/** What a fetch came to. */
type State =
  | { readonly kind: 'closed' | 'reading' }
  | { readonly kind: 'read'; readonly told: DescribedExplanation }
  | { readonly kind: 'failed'; readonly why: string }

async function read(logId: string, figure: string): Promise<State> {
  try {
    const response = await fetch(`/api/logs/${logId}/explain?figure=${encodeURIComponent(figure)}`)
    if (!response.ok) return { kind: 'failed', why: await problemOf(response) }
    return { kind: 'read', told: (await response.json()) as DescribedExplanation }
  } catch {
    return { kind: 'failed', why: 'The server cannot be reached.' }
  }
}

/** How a figure was reached, asked for when the disclosure it stands in is first opened. */
export function How({ logId, figure }: { logId: string; figure: string }) {
  const place = useRef<HTMLDivElement>(null)
  const [state, setState] = useState<State>({ kind: 'closed' })
  useEffect(() => {
    const opener = place.current?.closest('details')
    if (!opener) return
    let isAsked = false
    const ask = () => {
      if (!opener.open || isAsked) return
      isAsked = true
      setState({ kind: 'reading' })
      read(logId, figure).then((next) => {
        // What failed is asked for again when it is opened again.
        isAsked = next.kind === 'read'
        setState(next)
      })
    }
    const closeByKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape' || !opener.open || event.defaultPrevented) return
      // Figures open within an opened option: only the innermost one closes.
      event.preventDefault()
      opener.open = false
      opener.querySelector('summary')?.focus()
    }
    ask()
    opener.addEventListener('keydown', closeByKey)
    opener.addEventListener('toggle', ask)
    return () => {
      opener.removeEventListener('toggle', ask)
      opener.removeEventListener('keydown', closeByKey)
    }
  }, [logId, figure])
  return (
    <div ref={place} className="explain" aria-live="polite" aria-busy={state.kind === 'reading'}>
      {state.kind === 'read' ? <ExplanationView told={state.told} /> : null}
      {state.kind === 'reading' ? <p className="soft">Reading how this was reached …</p> : null}
      {state.kind === 'failed' ? <p className="nodata">{state.why}</p> : null}
    </div>
  )
}
