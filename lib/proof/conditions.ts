import { ADJUSTMENTS, type Adjustment, type Driver } from '@/lib/contract/proof'
import { meanOf } from '@/lib/numeric/mean'
import { quantile } from '@/lib/numeric/quantile'
import type { Baseline } from './baseline'
import type { Unit } from './units'
import { type ProofWarning, warning } from './warning'

/** So many units beyond the range that the baseline saw are too many, as a share (common practice, no source). */
const OUTSIDE_SHARE = 0.1
/** A range is taken a little wider than what was seen, as a share of it. */
const MARGIN_SHARE = 0.05
/** Where a mean may lie among the baseline's units before it counts as other conditions. */
const USUAL_LOW = 0.1
const USUAL_HIGH = 0.9
/** Below this t a variable tells nothing (IPMVP's usual demand, from memory). */
const LEAST_T = 2
/** Working time per unit that moves by more than this share is the measure's or another duty's (common practice, no source). */
const SHIFT_SHARE = 0.05

const known = (values: readonly number[]) => values.every((value) => !Number.isNaN(value))

interface Compared {
  readonly before: readonly number[]
  readonly after: readonly number[]
}

function outside(variable: string, { before, after }: Compared): ProofWarning[] {
  const low = Math.min(...before)
  const high = Math.max(...before)
  const margin = MARGIN_SHARE * (high - low)
  const beyond = after.filter((value) => value < low - margin || value > high + margin).length
  if (beyond <= OUTSIDE_SHARE * after.length) return []
  const share = beyond / after.length
  return [warning('outside-baseline', { variable, share, low, high, mean: meanOf(after) })]
}

/** A variable that the model does not hold, and that is no longer what it was. */
function unheld(variable: Adjustment, { before, after }: Compared): ProofWarning[] {
  const mean = meanOf(after)
  const [low, high] = [quantile(before, USUAL_LOW), quantile(before, USUAL_HIGH)]
  if (mean >= low && mean <= high) return []
  return [warning('not-adjusted', { variable, before: meanOf(before), after: mean })]
}

/** Where what drives the energy is no longer as the baseline saw it. */
export function conditionWarnings(
  before: readonly Unit[],
  after: readonly Unit[],
  baseline: Baseline,
  driver: Driver,
  asked: readonly Adjustment[],
): ProofWarning[] {
  const found: ProofWarning[] = []
  const columns = (pick: (unit: Unit) => number): Compared => ({
    before: before.map(pick),
    after: after.map(pick),
  })
  if (driver !== 'cycles')
    found.push(
      ...outside(
        driver,
        columns(({ driver: amount }) => amount),
      ),
    )
  for (const name of ADJUSTMENTS) {
    const both = columns(({ adjust }) => adjust[name])
    const isKnown = known(both.before) && known(both.after)
    const held = baseline.adjustments.includes(name)
    if (asked.includes(name) && !held)
      found.push(warning(isKnown ? 'adjustment-dropped' : 'adjustment-not-logged', { variable: name }))
    if (!isKnown) continue
    // A log's own times follow from how long it is: only a cycle's say something of the duty.
    const isDuty = driver === 'cycles' || name === 'load-pressure' || name === 'oil-temperature'
    if (held) found.push(...outside(name, both))
    else if (isDuty) found.push(...unheld(name, both))
    if (held && driver === 'cycles' && name === 'working-time') found.push(...shifted(both))
  }
  for (const { name, t } of baseline.shown.coefficients)
    if (name !== 'constant' && Math.abs(t) < LEAST_T)
      found.push(warning('weak-variable', { variable: name, t }))
  return found
}

/** Strokes that take longer with the measure are its doing, and adjusting for them hides that. */
function shifted({ before, after }: Compared): ProofWarning[] {
  const [was, is] = [meanOf(before), meanOf(after)]
  if (Math.abs(is - was) <= SHIFT_SHARE * was) return []
  return [warning('working-time-moved', { beforeS: was, afterS: is })]
}
