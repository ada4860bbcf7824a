'use client'
import { useEffect, useRef, useState } from 'react'
import type { Reference } from '@/lib/months/references'
import { count, NO_DATA } from '../format'
import { changeText } from './change-text'
import type { Picked } from './month-sum'
import { withReach } from './reach-text'
import { useChangeSum } from './use-change-sum'

interface Props {
  readonly picked: readonly Picked[]
  readonly reference: Reference
  readonly month: string
  readonly currency: string
}

/** The change of all that is shown with its 95 % interval, and what that is made of. */
export function ChangeSum({ picked, reference, month, currency }: Props) {
  const sum = useChangeSum(picked, reference, month, true)
  if (!sum) return <p className="soft">Reading how sure the sum is …</p>
  if ('why' in sum) return <p className="nodata">{sum.why}</p>
  const { kWh, cost, reach, unsure, machines, isOther } = sum
  return (
    <>
      {reach ? (
        <p>
          Change together: <strong>{changeText(cost, reach.cost)}</strong> {currency},{' '}
          {changeText(kWh, reach.kWh)} kWh, 95 % interval.
          {isOther ? ' Logs and settings of today; the figure shown is that of the month’s closing.' : ''}
        </p>
      ) : (
        <p>
          How sure the sum is, is not known yet: the logs of {count(unsure)} of {count(machines)} machines
          were rolled up by an earlier version.
        </p>
      )}
      <p className="soft small">
        Sensors, plates and days of one machine have nothing to do with those of another, so their doubts add
        in squares; hours run beside the plan move all machines of a month alike and add up. Between the two
        months nothing is taken to cancel.
      </p>
    </>
  )
}

/** The 95 % interval of the change of all that is shown, read once it is looked at. */
export function ChangeSumReach({ picked, reference, month, currency }: Props) {
  const place = useRef<HTMLSpanElement>(null)
  const [isSeen, setSeen] = useState(false)
  useEffect(() => {
    if (!place.current) return
    const watcher = new IntersectionObserver((entries) => {
      if (entries.some((entry) => entry.isIntersecting)) setSeen(true)
    })
    watcher.observe(place.current)
    return () => watcher.disconnect()
  }, [])
  const sum = useChangeSum(picked, reference, month, isSeen)
  // Of a closed month its own figures are shown; how sure they were then was not kept.
  const reach = sum && !('why' in sum) && !sum.isOther ? sum.reach : null
  return (
    <span ref={place}>
      {reach && sum && 'cost' in sum ? (
        <>
          {withReach(sum.cost, reach.cost).interval} {currency}
          <br />
          {withReach(sum.kWh, reach.kWh).interval} kWh
        </>
      ) : (
        <span className="nodata">{sum ? NO_DATA : '…'}</span>
      )}
    </span>
  )
}
