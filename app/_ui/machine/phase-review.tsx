'use client'
import { useCallback, useState } from 'react'
import type { Span } from '@/app/_charts/phase-ribbon'
import { TraceExplorer, type TraceExplorerProps } from '@/app/_charts/trace-explorer'
import type { CorrectionAnswer } from '@/app/_server/shapes'
import { CorrectionForm } from './correction-form'
import { CorrectionsList } from './corrections-list'
import { PhasesTable } from './phases-table'

type Shared = 'corrected' | 'picked' | 'onPick' | 'focus' | 'onShown'

export interface PhaseReviewProps extends Omit<TraceExplorerProps, Shared> {
  readonly corrections: readonly CorrectionAnswer[]
  /** Whether the figures shown are made with these corrections and no others. */
  readonly upToDate: boolean
  readonly timeZone: string
}

/** Traces with the ribbon of phases, and the phases as a table: what was found, and what a person says instead. */
export function PhaseReview({ corrections, upToDate, timeZone, ...traces }: PhaseReviewProps) {
  const [picked, setPicked] = useState<Span | null>(null)
  /** Counts choices, so that each opens the form anew. */
  const [choice, setChoice] = useState(0)
  const [focus, setFocus] = useState<Span | null>(null)
  const [shown, setShown] = useState<Span>({ startS: 0, endS: traces.durationS })
  const [isSaved, setSaved] = useState(false)

  const pick = useCallback(({ startS, endS }: Span) => {
    setPicked({ startS, endS })
    setChoice((now) => now + 1)
    setSaved(false)
  }, [])
  const show = useCallback(({ startS, endS }: Span) => {
    setFocus({ startS, endS })
    document.getElementById('traces')?.scrollIntoView()
  }, [])
  const inForce = corrections.filter(({ applied }) => applied?.inForceS !== 0)

  return (
    <>
      <section className="sheet" aria-labelledby="traces">
        <h2 id="traces">Traces and account over time</h2>
        <TraceExplorer
          {...traces}
          corrected={inForce}
          picked={picked}
          onPick={pick}
          focus={focus}
          onShown={setShown}
        />
      </section>
      <section className="sheet" aria-labelledby="phases">
        <h2 id="phases">Phases</h2>
        <p className="reading soft">
          Where the analysis took a stretch for another kind than it was, say so: choose it in the ribbon
          above or in the table. The log is analysed again with it at once, other changes of the set-up keep
          it, and each correction can be undone.
        </p>
        {picked ? (
          <CorrectionForm
            key={choice}
            logId={traces.logId}
            phases={traces.phases}
            durationS={traces.durationS}
            stretch={picked}
            shown={shown}
            onChange={setPicked}
            onClose={() => setPicked(null)}
            onSaved={() => {
              setPicked(null)
              setSaved(true)
            }}
          />
        ) : null}
        <p role="status">
          {!upToDate
            ? 'The figures on this page are not yet made with all corrections below.'
            : isSaved
              ? 'The correction is stored, and the figures on this page are made with it.'
              : null}
        </p>
        <CorrectionsList corrections={corrections} timeZone={timeZone} onShow={show} />
        <div className="screen-only">
          <PhasesTable phases={traces.phases} clockMs={traces.clockMs} onShow={show} onCorrect={pick} />
        </div>
      </section>
    </>
  )
}
