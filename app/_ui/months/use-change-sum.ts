'use client'
import { useEffect, useMemo, useState } from 'react'
import type { ChangeSumAnswer } from '@/app/_server/change-sum-answer'
import { sumChangeReach } from '@/lib/months/change-doubt'
import type { ChangeReach } from '@/lib/months/change-reach'
import type { Reference } from '@/lib/months/references'
import { problemOf } from '../api'
import { type Picked, sumChange } from './month-sum'

type Part = ChangeSumAnswer['parts'][number]
type State = { readonly parts: ReadonlyMap<string, Part> } | { readonly why: string } | null

/** The change of all that is shown, as today's logs and settings make it. */
export interface SureSum {
  readonly kWh: number
  readonly cost: number
  /** Null where a machine's is not known yet. */
  readonly reach: ChangeReach | null
  readonly unsure: number
  readonly machines: number
  /** The figures shown are others: those of the month's closing. */
  readonly isOther: boolean
}

/** Kinds looked at of a machine, as they are asked for. */
const kindsKey = ({ kinds }: Picked) => kinds.join(',')
const partKey = (kinds: string, machineId: string) => `${kinds} ${machineId}`

async function read(month: string, against: Reference, asked: readonly string[]): Promise<State> {
  const parts = new Map<string, Part>()
  for (const kinds of asked) {
    const query = new URLSearchParams({ against, kinds })
    const response = await fetch(`/api/months/${month}/change/sum?${query}`)
    if (!response.ok) return { why: await problemOf(response) }
    const answer: ChangeSumAnswer = await response.json()
    for (const part of answer.parts) parts.set(partKey(kinds, part.machineId), part)
  }
  return { parts }
}

function sumOf(
  picked: readonly Picked[],
  reference: Reference,
  parts: ReadonlyMap<string, Part>,
): SureSum | null {
  const shown = sumChange(picked, reference)
  if (!shown) return null
  const own = picked.flatMap((one) => parts.get(partKey(kindsKey(one), one.machine.machineId)) ?? [])
  const known = own.flatMap(({ doubt }) => doubt ?? [])
  const sum = (of: (part: Part) => number) => own.reduce((total, one) => total + of(one), 0)
  const unsure = Math.max(own.length, shown.machines) - known.length
  const cost = sum((one) => one.cost)
  return {
    kWh: sum((one) => one.kWh),
    cost,
    reach: unsure === 0 && known.length > 0 ? sumChangeReach(known) : null,
    unsure,
    machines: shown.machines,
    // The page's own figures are rounded to seven digits.
    isOther: Math.abs(cost - shown.cost.change) > 0.01 + 1e-5 * sum((one) => Math.abs(one.cost)),
  }
}

/**
 * How sure the change of all that is shown is: asked for once it is wanted, by the kinds of waste that are looked at
 * together. Null until it is read, and where there is no change.
 */
export function useChangeSum(
  picked: readonly Picked[],
  reference: Reference,
  month: string,
  isWanted: boolean,
): SureSum | { readonly why: string } | null {
  const [state, setState] = useState<State>(null)
  const asked = useMemo(() => [...new Set(picked.map(kindsKey))].join(' '), [picked])
  useEffect(() => {
    if (!isWanted || asked === '') return
    let isGone = false
    read(month, reference, asked.split(' '))
      .catch((): State => ({ why: 'The server cannot be reached.' }))
      .then((next) => {
        if (!isGone) setState(next)
      })
    return () => {
      isGone = true
    }
  }, [month, reference, asked, isWanted])
  return useMemo(
    () => (state && 'parts' in state ? sumOf(picked, reference, state.parts) : state),
    [state, picked, reference],
  )
}
