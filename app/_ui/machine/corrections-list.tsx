'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { Span } from '@/app/_charts/phase-ribbon'
import type { CorrectionAnswer } from '@/app/_server/shapes'
import type { PhaseKind } from '@/lib/contract/result'
import { send } from '../api'
import { dateTime, duration, elapsed } from '../format'
import { Key } from '../key'
import { Scroll } from '../scroll'
import { PHASES } from '../streams'

const NOBODY = 'a script, or a person on this computer'

const foundText = (foundS: Readonly<Record<string, number>>) =>
  Object.entries(foundS)
    .sort(([, a], [, b]) => b - a)
    .map(([kind, seconds]) => `${PHASES[kind as PhaseKind]?.label ?? kind} ${duration(seconds)}`)
    .join(', ')

function forceText({ applied, startS, endS }: CorrectionAnswer): string {
  if (!applied) return 'being worked in'
  if (applied.inForceS === 0) return 'no: later ones cover it'
  const all = Object.values(applied.foundS).reduce((sum, seconds) => sum + seconds, 0)
  return applied.inForceS < all - (endS - startS) * 1e-6 ? `partly: ${duration(applied.inForceS)}` : 'yes'
}

/** What people said of this log's stretches, and how to take each back. */
export function CorrectionsList({
  corrections,
  timeZone,
  onShow,
}: {
  corrections: readonly CorrectionAnswer[]
  timeZone: string
  onShow: (stretch: Span) => void
}) {
  const router = useRouter()
  const [busy, setBusy] = useState<string | null>(null)
  const [failure, setFailure] = useState<string | null>(null)
  const undo = async ({ id, url }: CorrectionAnswer) => {
    setBusy(id)
    setFailure(null)
    try {
      await send('DELETE', url)
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(null)
    }
  }
  if (!corrections.length) return null
  return (
    <div className="corrections">
      <h3>Corrections of this log</h3>
      {failure ? (
        <p className="error" role="alert">
          {failure}
        </p>
      ) : null}
      <Scroll label="Corrections of this log">
        <table>
          <caption className="sr">Corrections of this log; where two overlap, the later is in force</caption>
          <thead>
            <tr>
              <th scope="col">
                Stretch <span className="unit">h:mm:ss from the first sample</span>
              </th>
              <th scope="col">Said to be</th>
              <th scope="col">Found by the analysis</th>
              <th scope="col">In force</th>
              <th scope="col">By</th>
              <th scope="col">When</th>
              <th scope="col">Why</th>
            </tr>
          </thead>
          <tbody>
            {corrections.map((one) => (
              <tr key={one.id}>
                <th scope="row" className="nowrap">
                  {elapsed(one.startS)} to {elapsed(one.endS)}
                  <span className="row-actions screen-only">
                    <button
                      type="button"
                      className="plain"
                      aria-label={`Show the correction from ${elapsed(one.startS)}`}
                      onClick={() => onShow(one)}
                    >
                      Show
                    </button>
                    <button
                      type="button"
                      className="plain"
                      aria-label={`Undo the correction from ${elapsed(one.startS)}`}
                      disabled={busy !== null}
                      onClick={() => void undo(one)}
                    >
                      {busy === one.id ? 'Undoing …' : 'Undo'}
                    </button>
                  </span>
                </th>
                <td className="nowrap">
                  <Key token={PHASES[one.kind].token} />
                  {PHASES[one.kind].label}
                </td>
                <td>
                  {one.applied ? (
                    foundText(one.applied.foundS)
                  ) : (
                    <span className="nodata">not yet known</span>
                  )}
                </td>
                <td>{forceText(one)}</td>
                <td>{one.author ?? <span className="soft">{NOBODY}</span>}</td>
                <td className="nowrap">{dateTime(one.createdAt, timeZone)}</td>
                <td>{one.reason ?? <span className="soft">not said</span>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </div>
  )
}
