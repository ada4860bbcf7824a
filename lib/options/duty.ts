import type { MachineModel } from '@/lib/machine/machine-model'
import type { StepChange, SupplyChange } from './change'
import { isWork } from './demand'
import { copyInto, copyOf, type SupplyStep, supplyElectricW, supplyShaftW, type WorkingStep } from './supply'

/**
 * What a recording asks of its supply: the distinct operating points with the time that each lasts, and
 * the pieces of the log in their order, each of one of the points.
 */
export interface Duty {
  readonly points: readonly SupplyStep[]
  /** By piece: its point, how long it lasts, s, and the step of the log that it is of. */
  readonly pointOf: Int32Array
  readonly durationS: Float64Array
  readonly stepOf: Int32Array
}

/** A duty with a point of its own for each step of a supply. */
export const dutyOfSupply = (supply: readonly SupplyStep[]): Duty => ({
  points: supply,
  pointOf: Int32Array.from(supply, (_, k) => k),
  durationS: Float64Array.from(supply, (step) => step.durationS),
  stepOf: Int32Array.from(supply, (step) => step.step),
})

/** A duty and its model energies with a change carried out. */
export interface CarriedOut {
  readonly electricJ: number
  readonly shaftJ: number
  /** Working time, s. */
  readonly workS: number
  /** Electric energy of each point of `duty`, J. */
  readonly pointJ: Float64Array
  /** The duty that the last changes were carried out on, point by point. */
  readonly duty: Duty
}

/** Changes a step; one whose pressure nobody knows stays as it is, and saves nothing. */
function apply(changes: readonly StepChange[], step: WorkingStep): void {
  if (Number.isNaN(step.pressurePa)) return
  for (const change of changes) change(step)
}

function measured(duty: Duty, changes: readonly StepChange[], model: MachineModel): CarriedOut {
  const { points } = duty
  const pointJ = new Float64Array(points.length)
  let electricJ = 0
  let shaftJ = 0
  let workS = 0
  if (points.length > 0) {
    const step = copyOf(points[0])
    for (let k = 0; k < points.length; k++) {
      copyInto(step, points[k])
      apply(changes, step)
      const shaftW = supplyShaftW(step, model)
      pointJ[k] = (step.motorOn ? step.durationS * supplyElectricW(step, model, shaftW) : 0) + step.extraJ
      electricJ += pointJ[k]
      shaftJ += step.durationS * shaftW
      if (isWork(step)) workS += step.durationS
    }
  }
  return { electricJ, shaftJ, workS, pointJ, duty }
}

/** The points changed, and every piece as much longer or shorter as its point. */
function changed(duty: Duty, changes: readonly StepChange[]): Duty {
  if (changes.length === 0) return duty
  const points = duty.points.map((point) => {
    const step = copyOf(point)
    apply(changes, step)
    return step
  })
  const longer = points.map(({ durationS }, k) => ratio(durationS, duty.points[k].durationS))
  // Written out: a duty may work its pieces out once they are asked for.
  return {
    points,
    pointOf: duty.pointOf,
    stepOf: duty.stepOf,
    durationS: duty.durationS.map((durationS, k) => durationS * longer[duty.pointOf[k]]),
  }
}

const ratio = (part: number, whole: number) => (whole > 0 ? part / whole : 1)

/**
 * Carries a change out on a duty; null leaves it as it is. One without parts needs a duty whose points are the
 * steps of the log in their order.
 */
export function carriedOut(duty: Duty, change: SupplyChange | null, model: MachineModel): CarriedOut {
  if (change && !change.parts) {
    const supply = change(duty.points, model)
    return measured(dutyOfSupply(supply), [], model)
  }
  let now = duty
  let changes: StepChange[] = []
  for (const part of change?.parts ?? []) {
    if ('each' in part) changes.push(part.each(model))
    else {
      now = part.inOrder(changed(now, changes), model)
      changes = []
    }
  }
  return measured(now, changes, model)
}

/** Mean input of each point, W: nil where it lasts no time. */
export function pointWatts({ duty, pointJ }: Pick<CarriedOut, 'duty' | 'pointJ'>): Float64Array {
  return pointJ.map((energyJ, k) => (duty.points[k].durationS > 0 ? energyJ / duty.points[k].durationS : 0))
}

/** Hands out the electric energy of every piece, J, with the step of the log that it is of. */
export function eachPiece(
  { duty, pointJ }: CarriedOut,
  visit: (step: number, electricJ: number) => void,
): void {
  const { pointOf, durationS, stepOf } = duty
  const perSecond = pointWatts({ duty, pointJ })
  for (let k = 0; k < pointOf.length; k++) visit(stepOf[k], durationS[k] * perSecond[pointOf[k]])
}
