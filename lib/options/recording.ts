import { curveWith, type Ledger } from '@/lib/ledger/ledger'
import { modelWith, type ParameterValues } from '@/lib/ledger/parameters'
import { askedOf } from './asked'
import { columnsOf, silentIn } from './columns'
import { loggedSupply } from './logged-supply'
import { type Points, type PointsAt, pointsOf } from './points'
import type { SupplyStep, Under } from './supply'

/** The logged supply of a recording with the models that go with it. */
export interface Recording extends Under {
  readonly supply: readonly SupplyStep[]
  /** Points none of which holds idles on both sides of one of the ages, s. */
  pointsAt(agesS: readonly number[]): PointsAt
}

/** Models under one set of parameter values; the relief's line is the one found in the log. */
export function underValues(ledger: Ledger, values: ParameterValues): Under {
  const curve = curveWith(ledger.curve, values, ledger.values)
  return { model: { ...modelWith(ledger.machine, values), relief: curve }, curve, values }
}

const keyOf = (agesS: readonly number[]) => [...agesS].sort((a, b) => a - b).join()

function made(ledger: Ledger): Recording {
  const { steps } = ledger.segmentation
  const under = underValues(ledger, ledger.values)
  const supply = loggedSupply(steps, ledger.trace.timeS, under)
  // Columns are made again for each of the few times that points are: they would be held all the while.
  const columns = () => columnsOf(steps, ledger.sensors)
  const asked = askedOf(supply, silentIn(columns()), under.model)
  const known = new Map<string, PointsAt>()
  const pointsAt = (agesS: readonly number[]) => {
    const key = keyOf(agesS)
    const before = known.get(key)
    if (before) return before
    const now = pointsOf({ supply, columns: columns() }, asked, agesS)
    known.set(key, now)
    return now
  }
  return { ...under, supply, pointsAt }
}

const recordings = new WeakMap<Ledger, Recording>()

/** The recording of a ledger, made when it is first asked for: planning, comparing sets and replaying share it. */
export function recordingOf(ledger: Ledger): Recording {
  const known = recordings.get(ledger) ?? made(ledger)
  recordings.set(ledger, known)
  return known
}

/** Models with the few wide points of a recording that is read otherwise than it was taken. */
export interface OtherReading extends Under {
  /** As of `pointsAt`. */
  fewAt(agesS: readonly number[]): Points
}

/** The same of a reading that is asked for its points alone: what they are made of is made anew for other ages, and not kept. */
export function otherReadingOf(ledger: Ledger): OtherReading {
  const known = new Map<string, Points>()
  const fewAt = (agesS: readonly number[]) => {
    const key = keyOf(agesS)
    const few = known.get(key) ?? made(ledger).pointsAt(agesS).few
    known.set(key, few)
    return few
  }
  return { ...underValues(ledger, ledger.values), fewAt }
}
