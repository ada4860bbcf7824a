import { Matrix } from 'ml-matrix'
import type { Ledger } from '@/lib/ledger/ledger'
import { LIMIT_TO_SD } from '@/lib/ledger/parameters'
import type { OwnCovariance } from '@/lib/ledger/propagate'
import type { Step, StretchMeans } from '@/lib/phases/stretch'
import { meansWith, stepOf } from '@/lib/phases/stretch-columns'
import type { Points } from './points'

/**
 * What saved shares owe to steps of which it is not known which pumps fed the line: all of them in the state that is as
 * possible as the one taken. Either is within the 95 % interval. Nothing where every state is settled.
 * @param shares the saved shares on points, or on steps of the log
 */
export function pumpDoubt(
  { doubtedPumps, segmentation }: Pick<Ledger, 'doubtedPumps' | 'segmentation'>,
  points: Points,
  shares: (points: Points, steps: readonly Step[]) => Float64Array,
): readonly OwnCovariance[] {
  if (doubtedPumps.length === 0) return []
  const { steps } = segmentation
  const others = new Map(doubtedPumps.map(({ step, other }) => [step, other]))
  // A point stands for steps in one state at one pressure: they are doubted alike.
  const otherOfPoint = new Map<number, number>()
  points.pointOf.forEach((point, piece) => {
    const other = others.get(steps[points.stepOf[piece]])
    if (other !== undefined) otherOfPoint.set(point, other)
  })
  const inState = (means: StretchMeans, pumpState: number) => meansWith(means, { pumpState })
  const taken = shares(points, steps)
  const other = shares(
    {
      ...points,
      alike: points.alike.map((point, k) => {
        const state = otherOfPoint.get(k)
        return state === undefined ? point : { ...point, means: inState(point.means, state) }
      }),
    },
    steps.map((step) => {
      const state = others.get(step)
      return state === undefined ? step : stepOf(step, step.kind, inState(step.means, state))
    }),
  )
  const moves = Matrix.columnVector(Array.from(other, (share, k) => (share - taken[k]) * LIMIT_TO_SD))
  return [{ source: 'pump-states', covariance: moves.mmul(moves.transpose()) }]
}
