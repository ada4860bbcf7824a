'use client'
import { useState } from 'react'
import { numberOf } from '../setup/typed-number'
import { Failure } from './failure'
import { useSending } from './use-sending'

/** How many pieces were made while a log ran; stored where the entry is left. */
export function PiecesEntry({ logId, name, pieces }: { logId: string; name: string; pieces: number | null }) {
  const [text, setText] = useState(pieces === null ? '' : String(pieces))
  const [known, setKnown] = useState(text)
  const { isBusy, failure, sending } = useSending()
  const value = numberOf(text)
  const isWrong = text.trim() !== '' && !(typeof value === 'number' && value >= 0)
  const store = () => {
    if (text === known || isWrong) return
    const path = `/api/logs/${logId}/production`
    const stored = () => setKnown(text)
    if (value === undefined) void sending('DELETE', path, undefined, stored)
    else void sending('PUT', path, { pieces: value }, stored)
  }
  return (
    <>
      <input
        inputMode="decimal"
        size={8}
        aria-label={`Pieces made while ${name} was logged`}
        aria-invalid={isWrong || undefined}
        disabled={isBusy}
        value={text}
        onChange={(event) => setText(event.target.value)}
        onBlur={store}
      />
      {isWrong ? <p className="error">Expected a number, not below nil.</p> : null}
      <Failure text={failure} />
    </>
  )
}
