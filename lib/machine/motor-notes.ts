import type { MotorDeclaration } from '@/lib/contract/machine'
import type { Note } from '@/lib/contract/result'
import { impliedCurrentShare, impliedLossShare, noLoadCurrent, noLoadLossShare } from './motor-part-load'
import { ratedPoint } from './motor-plate'

/** A stated no-load current this far (share of rated) from what part-load power factors imply contradicts them. */
const CONTRADICTION_SHARE = 0.08

/** What had to be assumed of a motor, and what of its plate could not be used. */
export function motorNotes(declared: MotorDeclaration): Note[] {
  const { plate, notes } = ratedPoint(declared)
  const said = [...notes]
  const loss = noLoadLossShare(plate)
  const impliedLoss = impliedLossShare(plate)
  if (impliedLoss !== null && loss.origin === 'default') {
    said.push({
      code: 'part-load-efficiencies-not-used',
      values: { impliedShare: impliedLoss, usedShare: loss.value },
    })
  }
  const current = noLoadCurrent(plate, loss.value)
  const impliedShare = impliedCurrentShare(plate, loss.value)
  if (impliedShare !== null && current.origin !== 'part-load') {
    const impliedA = impliedShare * plate.ratedCurrentA
    const contradicts = Math.abs(impliedA - current.value) > CONTRADICTION_SHARE * plate.ratedCurrentA
    if (current.origin === 'default' || contradicts) {
      said.push({
        code: 'part-load-power-factors-not-used',
        values: { impliedA, usedA: current.value },
      })
    }
  }
  return said
}
