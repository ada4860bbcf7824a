import type { MachineModel } from '@/lib/machine/machine-model'
import { RELOAD_SHARE } from '@/lib/machine/pump-group'
import { normalBelow } from '@/lib/numeric/normal-below'
import type { Sensors } from '@/lib/samples/sensors'
import { fitTo, type Limits } from './pump-witnesses'
import type { Stretch } from './stretch'
import { type StretchColumns, stretchesOf } from './stretch-columns'

/** State of the unloading pumps (pump.ts, PumpLatch) in each stretch, and how sure that is. */
export interface PumpStates {
  readonly state: Int32Array
  /** Chance of every state in every stretch, a row each. */
  readonly chance: Float64Array
  readonly states: number
  /** 1 where the readings lie between those of two states: pumps that changed over within the stretch, or to and fro. */
  readonly mixed: Uint8Array
}

/** How an unloading valve follows its setting, and where it lets its pump come back, as shares of the setting, 1 sd (common practice, no source). */
const UNLOADS_SD_SHARE = 0.05
const RELOAD_SD_SHARE = 0.09
/** A peak between two samples, or a valve that sticks, changes a state where no reading shows why. */
const UNSEEN_CHANCE = 1e-3

/** Below this share of an unloading pressure its pump feeds, and the oil may have other ways to tank. */
const ASKED_FROM_SHARE = 0.4
/** Oil and meters follow a change within this time (common practice, no source). */
const SETTLED_S = 0.4

/** So many changes within this time are no cycle's: a pair that finds no rest (common practice, no source). */
const TO_AND_FRO_CHANGES = 4
const TO_AND_FRO_S = 2

/** A latch's pressures, Pa. */
interface Thresholds {
  readonly unloadsPa: number
  readonly unloadsSd: number
  readonly reloadsPa: number
  readonly reloadsSd: number
}

const sure = (chance: number) => Math.min(Math.max(chance, UNSEEN_CHANCE), 1 - UNSEEN_CHANCE)

/** Chances that a pump is unloaded after it fed at one pressure, and feeds after it was unloaded, at the next. */
function changeOver(
  { unloadsPa, unloadsSd, reloadsPa, reloadsSd }: Thresholds,
  lastPa: number,
  nowPa: number,
): { unloads: number; reloads: number } {
  const unloadedBy = (pa: number) => normalBelow((pa - unloadsPa) / unloadsSd)
  const stayedBy = (pa: number) => normalBelow((pa - reloadsPa) / reloadsSd)
  // A valve's pressures stay what they are: one that kept its state at the last pressure keeps it there.
  const fed = 1 - unloadedBy(lastPa)
  const rested = stayedBy(lastPa)
  return {
    unloads: sure(fed > UNSEEN_CHANCE ? 1 - (1 - unloadedBy(Math.max(nowPa, lastPa))) / fed : 0),
    reloads: sure(rested > UNSEEN_CHANCE ? 1 - stayedBy(Math.min(nowPa, lastPa)) / rested : 0),
  }
}

/** Chance of each change of state from one pressure to the next, a row for each state before; without one before, of each state. */
function chances(latches: readonly Thresholds[], lastPa: number | null, nowPa: number, states: number) {
  const out = new Float64Array(lastPa === null ? states : states * states).fill(1)
  latches.forEach((latch, bit) => {
    const { unloads, reloads } = changeOver(latch, lastPa ?? nowPa, nowPa)
    const feeds = sure(1 - normalBelow((nowPa - latch.unloadsPa) / latch.unloadsSd))
    const rests = sure(normalBelow((nowPa - latch.reloadsPa) / latch.reloadsSd))
    for (let k = 0; k < out.length; k++) {
      const isFed = (k % states) & (1 << bit)
      if (lastPa === null) out[k] *= (isFed ? feeds : rests) / (feeds + rests)
      else if (Math.floor(k / states) & (1 << bit)) out[k] *= isFed ? 1 - unloads : unloads
      else out[k] *= isFed ? reloads : 1 - reloads
    }
  })
  return out
}

/** Makes a row's chances add up to 1. */
function share(rows: Float64Array, at: number, states: number): void {
  let sum = 0
  for (let state = 0; state < states; state++) sum += rows[at + state]
  for (let state = 0; state < states; state++)
    rows[at + state] = sum > 0 ? rows[at + state] / sum : 1 / states
}

/** Readings that lie between two states for no longer than oil and meters take to follow are those of one change. */
function forgetTransitions(stretches: readonly Stretch[], mixed: Uint8Array): void {
  for (let first = 0; first < mixed.length; first++) {
    let seconds = 0
    let end = first
    for (; end < mixed.length && mixed[end] === 1; end++) seconds += stretches[end].durationS
    if (seconds < SETTLED_S) mixed.fill(0, first, end)
    first = end
  }
}

/** Marks the stretches in which pumps change over to and fro quicker than any cycle asks for. */
function markToAndFro(stretches: readonly Stretch[], state: Int32Array, mixed: Uint8Array): void {
  let changed: { readonly at: number; readonly afterS: number }[] = []
  let afterS = 0
  for (let k = 1; k < stretches.length; k++) {
    afterS += stretches[k - 1].durationS
    if (stretches[k].afterGap) changed = []
    if (stretches[k].afterGap || state[k] === state[k - 1]) continue
    changed.push({ at: k, afterS })
    if (changed.length < TO_AND_FRO_CHANGES) continue
    const [first] = changed.splice(0, changed.length - TO_AND_FRO_CHANGES + 1)
    if (afterS - first.afterS < TO_AND_FRO_S) mixed.fill(1, first.at, k)
  }
}

/**
 * Which unloading pumps feed the line, stretch by stretch: what flow, current and power say at each pressure, and
 * which side the pressure came from, for a latch changes only where the pressure passes one of its two thresholds.
 * Both are weighed along the whole log, forwards and backwards (a hidden Markov chain), none across a gap. Null where
 * no pump unloads by the line's pressure.
 */
export function tellPumpStates(
  stretches: readonly Stretch[],
  limits: Limits,
  model: MachineModel,
): PumpStates | null {
  const { latch } = model.pump
  if (latch === null) return null
  const states = latch.fixed.length
  const pressureSd = limits.pumpPressure.limit / 2
  const latches = latch.unloadsAbovePa.map(
    (unloadsPa): Thresholds => ({
      unloadsPa,
      unloadsSd: Math.hypot(UNLOADS_SD_SHARE * unloadsPa, pressureSd),
      reloadsPa: RELOAD_SHARE * unloadsPa,
      reloadsSd: Math.hypot(RELOAD_SD_SHARE * unloadsPa, pressureSd),
    }),
  )
  const askedFromPa = ASKED_FROM_SHARE * Math.min(...latch.unloadsAbovePa)
  const fits = new Float64Array(stretches.length * states)
  const logs = new Float64Array(states)
  const mixed = new Uint8Array(stretches.length)
  stretches.forEach((stretch, k) => {
    logs.fill(0)
    if (model.isFixed && stretch.means.pumpPressurePa > askedFromPa) {
      if (fitTo(stretch, limits, model, latch, logs)) mixed[k] = 1
    }
    const best = Math.max(...logs)
    const weight = Math.min(1, stretch.durationS / SETTLED_S)
    for (let state = 0; state < states; state++)
      fits[k * states + state] = Math.exp(weight * (logs[state] - best))
  })

  // The pressure last known stands in where it is missing.
  const pressures = Float64Array.from(stretches, ({ means }) => means.pumpPressurePa)
  for (let k = 0; k < pressures.length; k++)
    if (Number.isNaN(pressures[k])) pressures[k] = k > 0 ? pressures[k - 1] : 0
  const isFirst = (k: number) => k === 0 || stretches[k].afterGap
  const changes = stretches.map((_, k) =>
    chances(latches, isFirst(k) ? null : pressures[k - 1], pressures[k], states),
  )
  const chance = new Float64Array(fits.length)
  for (let k = 0; k < stretches.length; k++) {
    for (let now = 0; now < states; now++) {
      let before = isFirst(k) ? changes[k][now] : 0
      if (!isFirst(k))
        for (let last = 0; last < states; last++)
          before += chance[(k - 1) * states + last] * changes[k][last * states + now]
      chance[k * states + now] = before * fits[k * states + now]
    }
    share(chance, k * states, states)
  }
  const later = new Float64Array(states).fill(1)
  const earlier = new Float64Array(states)
  for (let k = stretches.length - 2; k >= 0; k--) {
    if (isFirst(k + 1)) later.fill(1)
    else {
      for (let now = 0; now < states; now++) {
        earlier[now] = 0
        for (let next = 0; next < states; next++)
          earlier[now] += changes[k + 1][now * states + next] * fits[(k + 1) * states + next] * later[next]
      }
      share(earlier, 0, states)
      later.set(earlier)
    }
    for (let state = 0; state < states; state++) chance[k * states + state] *= later[state]
    share(chance, k * states, states)
  }
  const state = Int32Array.from(stretches, (_, k) => {
    let best = 0
    for (let one = 1; one < states; one++)
      if (chance[k * states + one] > chance[k * states + best]) best = one
    return best
  })
  forgetTransitions(stretches, mixed)
  markToAndFro(stretches, state, mixed)
  return { state, chance, states, mixed }
}

/** The stretches with the states told, and what stands for them as if a sensor had read them: a value for every sample. */
export function withPumpStates(
  columns: StretchColumns,
  sensors: Sensors,
  { state }: PumpStates,
): { readonly stretches: readonly Stretch[]; readonly sensors: Sensors } {
  const values = new Float64Array(sensors.count)
  const { from, to } = columns
  for (let k = 0; k < state.length; k++) values.fill(state[k], from[k], to[k])
  return {
    stretches: stretchesOf({ ...columns, pumpState: Float64Array.from(state) }),
    sensors: { ...sensors, pumpState: { column: '', values, limit: 0 } },
  }
}
