import type { Location, Machine, Quantity } from '@/lib/contract/machine'
import { type ChannelSamples, readerOf } from '@/lib/samples/samples'
import type { Channel } from '@/lib/samples/trace'
import { siOf, type Unit } from '@/lib/units'
import type { ChannelPlan } from './channel-plan'
import { rangeOf } from './column-range'
import { likelyFlowLocation, likelyPressureLocations } from './likely-location'
import { likelyUnit } from './likely-unit'
import { namelessQuantities } from './nameless-quantity'
import type { ProblemLog } from './problem-log'
import { LIKELIEST_LOCATION } from './quantity-words'

interface Draft {
  readonly plan: ChannelPlan
  readonly values: ChannelSamples
  quantity: Quantity
  location: Location | null
  unit: Unit
}

interface Context {
  readonly machine: Machine | null
  readonly headerLine: number | null
  readonly problems: ProblemLog
}

function applyLinear(samples: ChannelSamples, factor: number, offset: number): void {
  if (factor === 1 && offset === 0) return
  // Of coded readings each distinct one is brought over once.
  const values = samples instanceof Float64Array ? samples : samples.table
  for (let i = 0; i < values.length; i++) values[i] = values[i] * factor + offset
}

/** The unit of the value after `scale`, the values brought to it. */
function settleUnit(plan: ChannelPlan, quantity: Quantity, values: ChannelSamples, context: Context): Unit {
  const place = { line: context.headerLine, column: plan.column }
  if (plan.scale !== null) {
    const [[from0, from1], [to0, to1]] = [plan.scale.from, plan.scale.to]
    const factor = (to1 - to0) / (from1 - from0)
    applyLinear(values, factor, to0 - from0 * factor)
  }
  if (plan.unit !== null) return plan.unit
  if (plan.written !== null && plan.written.quantity === quantity) {
    applyLinear(values, plan.written.factor, 0)
    if (plan.written.gallonOpen) {
      context.problems.add('assumed-us-gallons', {
        ...place,
        values: { assumed: 'US gal', other: 'imperial gal' },
      })
    }
    return plan.written.unit
  }
  const { unit, other } = likelyUnit(quantity, rangeOf(values), context.machine)
  if (other !== null) context.problems.add('assumed-unit', { ...place, values: { assumed: unit, other } })
  return unit
}

function settleLocations(drafts: Draft[], context: Context): void {
  const assume = (draft: Draft, location: Location, other: Location | null): void => {
    draft.location = location
    if (other === null || other === location) return
    context.problems.add('assumed-location', {
      line: context.headerLine,
      column: draft.plan.column,
      values: { assumed: location, other },
    })
  }
  const open = (quantity: Quantity): Draft[] =>
    drafts.filter((draft) => draft.quantity === quantity && draft.location === null)
  const pressures = open('pressure')
  const taken = new Set(
    drafts.flatMap((draft) =>
      draft.quantity === 'pressure' && draft.location !== null ? [draft.location] : [],
    ),
  )
  const places = likelyPressureLocations(
    pressures.map((draft) => draft.values),
    taken,
  )
  pressures.forEach((draft, i) => {
    assume(draft, places[i], places[i] === 'pump-outlet' ? 'load' : 'pump-outlet')
  })
  const pump = drafts.find((draft) => draft.quantity === 'pressure' && draft.location === 'pump-outlet')
  const fixedPump = context.machine === null || context.machine.pump.kind === 'fixed'
  const current = fixedPump ? drafts.find((draft) => draft.quantity === 'current') : undefined
  for (const draft of open('flow')) {
    const location = likelyFlowLocation(draft.values, pump?.values ?? null, current?.values ?? null)
    assume(draft, location, location === 'system-line' ? 'pump-outlet' : 'system-line')
  }
  for (const draft of drafts) {
    if (draft.location !== null) continue
    const [location, other] = LIKELIEST_LOCATION[draft.quantity]
    assume(draft, location, other)
  }
}

/** One channel a place: further ones are left out and named, except load pressures and declared ones. */
function leaveOutExtras(drafts: readonly Draft[], problems: ProblemLog): Draft[] {
  const seen = new Map<string, Draft>()
  return drafts.filter((draft) => {
    const key = `${draft.quantity} ${draft.location}`
    const first = seen.get(key)
    if (first === undefined) seen.set(key, draft)
    if (first === undefined || draft.plan.declared || key === 'pressure load' || draft.quantity === 'signal')
      return true
    const electric = draft.location === 'motor-supply' && draft.quantity !== 'power'
    problems.add(electric ? 'extra-phase-unused' : 'extra-channel-unused', {
      column: draft.plan.column,
      values: { quantity: draft.quantity, location: draft.location, used: first.plan.column },
    })
    return false
  })
}

function isBinary(values: ChannelSamples): boolean {
  const reader = readerOf(values)
  for (let i = 0; i < reader.length; i++) {
    const value = reader.at(i)
    if (!(value === 0 || value === 1 || Number.isNaN(value))) return false
  }
  return true
}

/** Columns as channels in SI, what was left open told from their values and said as assumptions. */
export function settleChannels(
  plans: readonly ChannelPlan[],
  columns: readonly ChannelSamples[],
  context: Context,
): Channel[] {
  const isNameless = plans.some((plan) => plan.quantity === null && plan.written === null)
  const guesses = isNameless ? namelessQuantities(columns.map(rangeOf), context.machine) : []
  const drafts: Draft[] = []
  plans.forEach((plan, i) => {
    const values = columns[i]
    const quantity = plan.quantity ?? plan.written?.quantity ?? guesses[i]
    if (quantity === null) return
    if (plan.quantity === null && plan.written === null) {
      context.problems.add('assumed-quantity', {
        column: plan.column,
        values: { assumed: quantity, other: null },
      })
    }
    if (quantity === 'signal' && !plan.declared && !isBinary(values)) {
      context.problems.add('signal-not-binary', { line: context.headerLine, column: plan.column })
      return
    }
    const unit = settleUnit(plan, quantity, values, context)
    const { factor, offset } = siOf(unit)
    applyLinear(values, factor, offset)
    drafts.push({ plan, values, quantity, location: plan.location, unit })
  })
  settleLocations(drafts, context)
  return leaveOutExtras(drafts, context.problems).map((draft) => ({
    column: draft.plan.column,
    quantity: draft.quantity,
    location: draft.location ?? LIKELIEST_LOCATION[draft.quantity][0],
    unit: draft.unit,
    accuracy: draft.plan.accuracy,
    values: draft.values,
  }))
}
