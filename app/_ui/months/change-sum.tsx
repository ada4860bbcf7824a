'use client'
import { useEffect, useMemo, useState } from 'react'
import type { ChangeSumAnswer } from '@/app/_server/change-sum-answer'
import { sumChangeReach } from '@/lib/months/change-doubt'
import type { Reference } from '@/lib/months/references'
import { problemOf } from '../api'
import { count } from '../format'
import { changeText } from './change-text'
import { type Picked, sumChange } from './month-sum'
import { signed } from './signed'

type Parts = ReadonlyMap<string, ChangeSumAnswer['parts'][number]>
type State = { readonly parts: Parts } | { readonly why: string } | null

/** Kinds looked at of a machine, as they are asked for. */
const kindsKey = ({ kinds }: Picked) => kinds.join(',')
const partKey = (kinds: string, machineId: string) => `${kinds} ${machineId}`

/** The parts of the machines shown: asked for by the kinds of waste that are looked at together. */
async function read(month: string, against: Reference, asked: readonly string[]): Promise<State> {
  const parts = new Map<string, ChangeSumAnswer['parts'][number]>()
  for (const kinds of asked) {
    const query = new URLSearchParams({ against, kinds })
    const response = await fetch(`/api/months/${month}/change/sum?${query}`)
    if (!response.ok) return { why: await problemOf(response) }
    const answer: ChangeSumAnswer = await response.json()
    for (const part of answer.parts) parts.set(partKey(kinds, part.machineId), part)
  }
  return { parts }
}

/** The change of all that is shown with its 95 % interval. */
export function ChangeSum({
  picked,
  reference,
  month,
  currency,
}: {
  picked: readonly Picked[]
  reference: Reference
  month: string
  currency: string
}) {
  const [state, setState] = useState<State>(null)
  const asked = useMemo(() => [...new Set(picked.map(kindsKey))].join(' '), [picked])
  useEffect(() => {
    let isGone = false
    read(month, reference, asked.split(' '))
      .catch((): State => ({ why: 'The server cannot be reached.' }))
      .then((next) => {
        if (!isGone) setState(next)
      })
    return () => {
      isGone = true
    }
  }, [month, reference, asked])
  const shown = sumChange(picked, reference)
  if (!shown) return null
  if (!state) return <p className="soft">Reading how sure the sum is …</p>
  if ('why' in state) return <p className="nodata">{state.why}</p>
  const parts = picked.flatMap((one) => state.parts.get(partKey(kindsKey(one), one.machine.machineId)) ?? [])
  const known = parts.flatMap(({ doubt }) => doubt ?? [])
  const unsure = Math.max(parts.length, shown.machines) - known.length
  const today = parts.reduce((sum, { cost }) => sum + cost, 0)
  // The page's own figures are rounded to seven digits.
  const isOther =
    Math.abs(today - shown.cost.change) >
    0.01 + 1e-5 * parts.reduce((sum, { cost }) => sum + Math.abs(cost), 0)
  const reach = unsure === 0 && known.length > 0 ? sumChangeReach(known) : null
  return (
    <>
      <p>
        {reach ? (
          <>
            Change together: <strong>{changeText(today, reach.cost)}</strong> {currency},{' '}
            {changeText(
              parts.reduce((sum, { kWh }) => sum + kWh, 0),
              reach.kWh,
            )}{' '}
            kWh, 95 % interval.
          </>
        ) : (
          `How sure the sum is, is not known yet: the logs of ${count(unsure)} of ${count(shown.machines)} machines were rolled up by an earlier version.`
        )}
      </p>
      <p className="soft small">
        Sensors, plates and days of one machine have nothing to do with those of another, so their doubts add
        in squares; hours run beside the plan move all machines of a month alike and add up. Between the two
        months nothing is taken to cancel.
      </p>
      {isOther ? (
        <p className="note">
          Logs and settings of today; the figure shown, {signed(shown.cost.change)} {currency}, is that of the
          month’s closing.
        </p>
      ) : null}
    </>
  )
}
