import type { Analysis } from '@/lib/contract/result'
import { auxiliariesOverTime, ownCircuits } from '@/lib/ledger/beside'
import type { Ledger } from '@/lib/ledger/ledger'
import { J_PER_KWH, S_PER_HOUR, W_PER_KW } from '@/lib/units'
import { estimated, partsOf } from './account-figures'
import type { Grounds } from './grounds'
import { closedParts, evenPart, type Part, partsOfSum, scaledParts } from './parts'
import { type Figured, input } from './told'

/** Declared auxiliaries of a log, those that always run and those that run with the motor. */
export interface AuxiliaryGround {
  readonly alwaysKW: number
  readonly loggedHours: number
  readonly withMotorKW: number
  readonly runningHours: number
}

export function auxiliaryGround(ledger: Ledger): AuxiliaryGround | null {
  const sorts = auxiliariesOverTime(ledger)
  return (
    sorts && {
      alwaysKW: sorts.always.powerW / W_PER_KW,
      loggedHours: sorts.always.ranS / S_PER_HOUR,
      withMotorKW: sorts.whileRunning.powerW / W_PER_KW,
      runningHours: sorts.whileRunning.ranS / S_PER_HOUR,
    }
  )
}

/** Parts of the intervals of what the account holds apart, in kWh, by the figure's path. */
export function besideParts(ledger: Ledger, analysis: Analysis): Record<string, Part[]> {
  const parts: Record<string, Part[]> = {}
  const { auxiliariesKWh, ownCircuitsKWh } = analysis
  const own = ownCircuits(ledger)
  if (auxiliariesKWh) parts.auxiliariesKWh = closedParts([], auxiliariesKWh, 'auxiliaries')
  if (own && ownCircuitsKWh) {
    const ofModels = scaledParts(partsOfSum(own.of, new Map([[0, 1]])), 1 / J_PER_KWH)
    const copies = evenPart('unseen-pumps', own.copyJ / J_PER_KWH)
    parts.ownCircuitsKWh = closedParts([...ofModels, copies], ownCircuitsKWh, 'rest')
  }
  return parts
}

/** Figures that the account holds apart: auxiliaries on the motor's feeder, pumps with circuits of their own. */
export function besideFigure(name: string, analysis: Analysis, grounds: Grounds): Figured | null {
  const { auxiliariesKWh, ownCircuitsKWh } = analysis
  const { auxiliaries } = grounds
  if (name === 'auxiliariesKWh' && auxiliariesKWh && auxiliaries) {
    const { alwaysKW, loggedHours, withMotorKW, runningHours } = auxiliaries
    return {
      ...estimated(auxiliariesKWh, 'kWh', partsOf(grounds, name)),
      formula: 'auxiliaries-over-time',
      inputs: [
        input('auxiliaryPower', alwaysKW, 'kW', 'nameplate', 'auxiliaries'),
        input('loggedTime', loggedHours, 'h', 'figure', 'log.hours'),
        input('companionPower', withMotorKW, 'kW', 'nameplate', 'auxiliaries'),
        input('runningTime', runningHours, 'h', 'fitted'),
      ],
      exact: ['time'],
    }
  }
  if (name !== 'ownCircuitsKWh' || !ownCircuitsKWh) return null
  return {
    ...estimated(ownCircuitsKWh, 'kWh', partsOf(grounds, name)),
    formula: 'own-circuits-over-time',
    exact: ['time'],
  }
}
