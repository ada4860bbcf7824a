import { Matrix } from 'ml-matrix'
import type { MachineModel } from '@/lib/machine/machine-model'
import { meansWith } from '@/lib/phases/stretch-columns'
import type { AlikeSteps } from './alike-steps'
import type { AuxiliaryLoad } from './auxiliaries'
import { LIMIT_TO_SD } from './parameters'

/**
 * Covariance of the totals that comes from auxiliaries which run with the motor: no moment at rest shows how far
 * they are from what was declared. Null where none does, or where its power is known exactly.
 */
export function auxiliaryCovariance(
  alike: readonly AlikeSteps[],
  load: AuxiliaryLoad | null,
  model: MachineModel,
  totals: (groups: readonly AlikeSteps[]) => Float64Array,
): Matrix | null {
  if (!load || load.whileRunning.limitW === 0) return null
  const { limitW, limitVA } = load.whileRunning
  const limitA = limitVA / (Math.sqrt(3) * model.motor.ratedVoltageV)
  const moved = totals(
    alike.map((group) =>
      group.kind === 'stopped'
        ? group
        : {
            ...group,
            means: meansWith(group.means, {
              powerW: group.means.powerW - limitW,
              currentA: group.means.currentA - limitA,
            }),
          },
    ),
  )
  const central = totals(alike)
  const slopes = Matrix.columnVector(
    Array.from(moved, (value, k) => {
      const change = (value - central[k]) * LIMIT_TO_SD
      return Number.isNaN(change) ? 0 : change
    }),
  )
  return slopes.mmul(slopes.transpose())
}
