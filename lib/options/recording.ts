import { curveWith, type Ledger } from '@/lib/ledger/ledger'
import { modelWith, type ParameterValues } from '@/lib/ledger/parameters'
import { askedOf } from './asked'
import { columnsOf, silentIn } from './columns'
import { type PointsAt, pointsOf } from './points'
import { loggedSupply, type SupplyStep, type Under } from './supply'

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

function made(ledger: Ledger): Recording {
  const { steps } = ledger.segmentation
  const under = underValues(ledger, ledger.values)
  const supply = loggedSupply(steps, ledger.trace.timeS, under)
  const columns = columnsOf(steps, ledger.sensors)
  const asked = askedOf(supply, silentIn(columns), under.model)
  const known = new Map<string, PointsAt>()
  const pointsAt = (agesS: readonly number[]) => {
    const key = [...agesS].sort((a, b) => a - b).join()
    const before = known.get(key)
    if (before) return before
    const now = pointsOf({ supply, columns }, asked, agesS)
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
