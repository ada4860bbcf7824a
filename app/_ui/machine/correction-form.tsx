'use client'
import { useRouter } from 'next/navigation'
import { useEffect, useRef, useState } from 'react'
import type { Span } from '@/app/_charts/phase-ribbon'
import { PHASE_KINDS, type Phase, type PhaseKind } from '@/lib/contract/result'
import { send } from '../api'
import { Field } from '../field'
import { duration } from '../format'
import { PHASES } from '../streams'
import { readElapsed, writeElapsed } from './elapsed-entry'

const AUTHOR_KEY = 'correction-author'
const KINDS = PHASE_KINDS.map((kind) => [kind, PHASES[kind].label] as const)
const FORMAT = 'h:mm:ss or seconds from the first sample'

/** What stands in a stretch, longest first. */
function standing(phases: readonly Phase[], { startS, endS }: Span): string {
  const seconds = new Map<PhaseKind, number>()
  for (const phase of phases) {
    const inside = Math.min(endS, phase.endS) - Math.max(startS, phase.startS)
    if (inside > 0) seconds.set(phase.kind, (seconds.get(phase.kind) ?? 0) + inside)
  }
  return [...seconds]
    .sort(([, a], [, b]) => b - a)
    .map(([kind, sum]) => `${PHASES[kind].label} ${duration(sum)}`)
    .join(', ')
}

export interface CorrectionFormProps {
  readonly logId: string
  readonly phases: readonly Phase[]
  readonly durationS: number
  readonly stretch: Span
  /** What the traces show just now. */
  readonly shown: Span
  readonly onChange: (stretch: Span) => void
  readonly onClose: () => void
  readonly onSaved: () => void
}

/** Says which kind of phase a stretch is, who says it and why. */
export function CorrectionForm(props: CorrectionFormProps) {
  const { logId, phases, durationS, stretch, shown, onChange, onClose, onSaved } = props
  const router = useRouter()
  const form = useRef<HTMLFormElement>(null)
  const [from, setFrom] = useState(writeElapsed(stretch.startS))
  const [to, setTo] = useState(writeElapsed(stretch.endS))
  const found = phases.find((phase) => phase.endS > stretch.startS)?.kind ?? PHASE_KINDS[0]
  const [kind, setKind] = useState<string>(found)
  const [reason, setReason] = useState('')
  const [author, setAuthor] = useState('')
  const [isBusy, setBusy] = useState(false)
  const [failure, setFailure] = useState<string | null>(null)

  useEffect(() => {
    setAuthor(localStorage.getItem(AUTHOR_KEY) ?? '')
    form.current?.focus()
  }, [])

  const startS = readElapsed(from)
  const endS = readElapsed(to)
  const end = writeElapsed(durationS)
  const errors = {
    from: startS === null ? `Enter ${FORMAT}.` : startS >= durationS ? `The log ends at ${end}.` : undefined,
    to:
      endS === null
        ? `Enter ${FORMAT}.`
        : endS > durationS + 1e-6
          ? `The log ends at ${end}.`
          : startS !== null && endS <= startS
            ? 'The end must lie after the start.'
            : undefined,
  }
  const entered = startS !== null && endS !== null && !errors.from && !errors.to ? { startS, endS } : null

  const change = (start: string, stop: string) => {
    setFrom(start)
    setTo(stop)
    const [a, b] = [readElapsed(start), readElapsed(stop)]
    if (a !== null && b !== null && a < b) onChange({ startS: a, endS: b })
  }
  const save = async () => {
    if (!entered) return
    setBusy(true)
    setFailure(null)
    try {
      localStorage.setItem(AUTHOR_KEY, author)
      await send('POST', `/api/logs/${logId}/corrections`, {
        ...entered,
        kind,
        author: author || null,
        reason: reason || null,
      })
      onSaved()
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
      setBusy(false)
    }
  }

  return (
    <form
      ref={form}
      className="correction"
      tabIndex={-1}
      noValidate
      aria-label="Correct a stretch"
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <h3>Correct a stretch</h3>
      <p className="soft">
        {entered
          ? `There now: ${standing(phases, entered) || 'a gap without samples'}.`
          : 'Say from when to when.'}
      </p>
      <div className="fields">
        <Field
          label="From"
          unit="h:mm:ss"
          value={from}
          error={errors.from}
          onChange={(text) => change(text, to)}
        />
        <Field
          label="To"
          unit="h:mm:ss"
          value={to}
          error={errors.to}
          onChange={(text) => change(from, text)}
        />
        <Field
          label="What it is"
          value={kind}
          choices={KINDS}
          help={PHASES[kind as PhaseKind].meaning}
          onChange={setKind}
        />
        <Field label="Why" optional value={reason} onChange={setReason} />
        <Field label="Said by" optional value={author} onChange={setAuthor} />
      </div>
      {failure ? (
        <p className="error" role="alert">
          {failure}
        </p>
      ) : null}
      <div className="actions">
        <button type="submit" className="main" disabled={isBusy || !entered}>
          {isBusy ? 'Storing …' : 'Correct and analyse again'}
        </button>
        <button type="button" onClick={() => change(writeElapsed(shown.startS), writeElapsed(shown.endS))}>
          Take the time shown above
        </button>
        <button type="button" onClick={onClose}>
          Cancel
        </button>
      </div>
    </form>
  )
}
