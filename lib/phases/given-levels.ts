import type { GivenLevels } from '@/lib/contract/levels'
import { toSi } from '@/lib/units'

/** Levels that the machine file gives, SI; what it does not give is found. */
export interface GivenSi {
  readonly runningPowerW?: number
  readonly runningCurrentA?: number
  readonly unloadedBelowPa?: number
  readonly standbyPa?: number
  readonly reliefOpensPa?: number
  readonly deadHeadFromPa?: number
  readonly deadHeadPa?: number
  readonly noFlowShare?: number
  readonly fullFlowShare?: number
}

const pascals = (bar: number | undefined) => (bar === undefined ? undefined : toSi(bar, 'bar'))

export const givenInSi = (given: GivenLevels): GivenSi => ({
  runningPowerW: given.runningPowerKW === undefined ? undefined : toSi(given.runningPowerKW, 'kW'),
  runningCurrentA: given.runningCurrentA,
  unloadedBelowPa: pascals(given.unloadedBelowBar),
  standbyPa: pascals(given.standbyBelowBar),
  reliefOpensPa: pascals(given.reliefOpensBar),
  deadHeadFromPa: pascals(given.deadHeadFromBar),
  deadHeadPa: pascals(given.deadHeadBar),
  noFlowShare: given.noFlowShare,
  fullFlowShare: given.fullFlowShare,
})
