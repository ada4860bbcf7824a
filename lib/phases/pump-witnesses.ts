import { shaftFromReadingW } from '@/lib/machine/electric-side'
import { fullFlowM3S, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import type { PumpLatch } from '@/lib/machine/pump'
import type { Sensors } from '@/lib/samples/sensors'
import { opensRatioOf } from './flow-share'
import type { Stretch } from './stretch'

/** Misfit of pump and motor from their plates as witnesses of a state, 1 sd (common practice, no source). */
const SHAFT_SHARE = 0.06
const SHAFT_RATED_SHARE = 0.02
const AMPERE_SHARE = 0.02
const UNKNOWN_NO_LOAD_SHARE = 0.06
const FLOW_SHARE = 0.03
/** Meters far off are wrong rather than sure: tails of Student's distribution with these degrees of freedom. */
const FREEDOM = 6
/** Less than this share of the least flow that pumps can give has another way. */
const WHOLE_SHARE = 0.7

const logTails = (deviations: number) =>
  -((FREEDOM + 1) / 2) * Math.log(1 + (deviations * deviations) / FREEDOM)

export type Limits = Pick<
  Sensors,
  'pumpPressure' | 'pumpFlow' | 'systemFlow' | 'returnFlow' | 'current' | 'power'
>

const limitOf = (sensor: { readonly limit: number } | null) => sensor?.limit ?? 0

/** A reading against what is expected of it in each state: by how much it is more, and 1 sd of that. */
interface Witness {
  readonly misses: number[]
  readonly sds: number[]
}

/** Further off than this many standard deviations, a reading is not that of a state. */
const NOT_OF_STATE = 2.5
/** What is read of a motor that runs up is further above all of them. */
const RUNNING_UP = 6

/** True where a reading is far above every state's. */
const isBeyondAll = ({ misses, sds }: Witness) => misses.every((miss, k) => miss > RUNNING_UP * sds[k])

/** True where a reading is that of none, but lies between those of two. */
const isBetween = ({ misses, sds }: Witness) =>
  misses.every((miss, k) => Math.abs(miss) > NOT_OF_STATE * sds[k]) &&
  misses.some((miss) => miss > 0) &&
  misses.some((miss) => miss < 0)

/** Power or current of a stretch; null where none is read, or what is read says nothing of the pumps, as an inrush. */
function electricWitness(
  { means }: Stretch,
  limits: Limits,
  model: MachineModel,
  { fixed }: PumpLatch,
): Witness | null {
  const { motor, drive, machine } = model
  const isPower = !Number.isNaN(means.powerW) || drive !== null
  const seen = isPower ? shaftFromReadingW(model, means) : means.currentA
  if (Number.isNaN(seen)) return null
  const noLoad = machine.motor.noLoadCurrentA === undefined ? UNKNOWN_NO_LOAD_SHARE : 0
  const witness: Witness = { misses: [], sds: [] }
  for (const pump of fixed) {
    const shaftW = pumpShaftW({ motor, pump }, means.pumpPressurePa, null, means.speedRadS)
    const shaftSd = SHAFT_SHARE * shaftW + SHAFT_RATED_SHARE * motor.ratedShaftW
    const expected = isPower ? shaftW : motor.currentA(shaftW, means.voltageV)
    witness.misses.push(seen - expected)
    witness.sds.push(
      isPower
        ? Math.hypot(shaftSd, limitOf(limits.power))
        : Math.hypot(
            shaftSd / motor.shaftPerAmpere(shaftW),
            (AMPERE_SHARE + noLoad) * motor.ratedCurrentA,
            limitOf(limits.current),
          ),
    )
  }
  return isBeyondAll(witness) ? null : witness
}

/** Flow of a stretch: all that the pumps give, or a part of it at least; null where none is read. */
function flowWitness(
  { means }: Stretch,
  limits: Limits,
  model: MachineModel,
  { fixed }: PumpLatch,
): (Witness & { readonly isWhole: boolean }) | null {
  const { motor, relief } = model
  const { pumpPressurePa, pumpFlowM3S, systemFlowM3S, returnFlowM3S, speedRadS } = means
  const isPumps = !Number.isNaN(pumpFlowM3S)
  const parts = [systemFlowM3S, returnFlowM3S].filter((flow) => !Number.isNaN(flow))
  if (!isPumps && parts.length === 0) return null
  const seenM3S = isPumps ? pumpFlowM3S : parts.reduce((sum, flow) => sum + flow, 0)
  const limit = isPumps
    ? limitOf(limits.pumpFlow)
    : Math.hypot(limitOf(limits.systemFlow), limitOf(limits.returnFlow))
  const isShut = pumpPressurePa < opensRatioOf(model) * relief.settingPa
  const told = isShut ? !Number.isNaN(systemFlowM3S) : parts.length === 2
  const witness: Witness = { misses: [], sds: [] }
  let leastM3S = Number.POSITIVE_INFINITY
  for (const pump of fixed) {
    const fullM3S = fullFlowM3S({ motor, pump }, pumpPressurePa, speedRadS)
    leastM3S = Math.min(leastM3S, fullM3S)
    witness.misses.push(seenM3S - fullM3S)
    witness.sds.push(Math.hypot(FLOW_SHARE * pump.ratedFlowM3S, pump.leakageM3S(pumpPressurePa), limit))
  }
  return { ...witness, isWhole: isPumps || (told && seenM3S > WHOLE_SHARE * leastM3S) }
}

/**
 * How well the readings of a stretch fit each state, as logarithms in `out`.
 * @returns whether they are of none but lie between those of two: pumps that changed over within the stretch
 */
export function fitTo(
  stretch: Stretch,
  limits: Limits,
  model: MachineModel,
  latch: PumpLatch,
  out: Float64Array,
): boolean {
  const electric = electricWitness(stretch, limits, model, latch)
  const flow = flowWitness(stretch, limits, model, latch)
  for (let state = 0; state < out.length; state++) {
    if (electric) {
      const sd = electric.sds[state]
      out[state] += logTails(electric.misses[state] / sd) - Math.log(sd)
    }
    if (flow?.isWhole) {
      const sd = flow.sds[state]
      out[state] += logTails(flow.misses[state] / sd) - Math.log(sd)
    } else if (flow) {
      // Pumps may give more than is seen where some of it has another way; never less.
      out[state] += logTails(Math.max(0, flow.misses[state]) / flow.sds[state])
    }
  }
  return (electric !== null && isBetween(electric)) || (flow?.isWhole === true && isBetween(flow))
}
