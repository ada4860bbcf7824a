import type { GivenLevels, Level, ReportedLevels } from '@/lib/contract/levels'
import type { MachineModel } from '@/lib/machine/machine-model'
import { fromSi } from '@/lib/units'
import type { SystemShare } from './flow-share'
import type { Levels } from './levels'
import { isLoadSensing } from './share-levels'
import type { Stretch } from './stretch'

/** The levels found in a log as a result shows them, with what the machine file gives instead. */
export function reportLevels(
  found: Levels,
  model: MachineModel,
  stretches: readonly Stretch[],
  share: SystemShare,
): ReportedLevels {
  const given: GivenLevels = model.machine.levels ?? {}
  const flowTells = stretches.some((stretch) => !Number.isNaN(share(stretch)))
  const pressureTells = stretches.some((stretch) => Number.isNaN(share(stretch)))
  const powerTells = stretches.some(({ means }) => !Number.isNaN(means.powerW))
  const currentTells = stretches.some(
    ({ means }) => Number.isNaN(means.powerW) && !Number.isNaN(means.currentA),
  )
  const { kind } = model.machine.unloading
  // Where flow shows that no oil moves, a fixed pump counts as unloaded up to half of the dead-head level.
  const byFlow = model.isFixed && flowTells && kind !== 'open-centre'
  const unloads = byFlow || kind !== 'none'
  const deadHeadFrom = found.deadHeadSeen ? 'log' : 'machine'
  const level = (
    value: number | null,
    foundFrom: Level['foundFrom'],
    said: number | undefined,
    decides: boolean,
  ): Level => ({ found: value, foundFrom, given: said ?? null, decides })
  const bar = (pascals: number) => fromSi(pascals, 'bar')
  return {
    runningPowerKW: level(fromSi(found.runningPowerW, 'kW'), 'machine', given.runningPowerKW, powerTells),
    runningCurrentA: level(found.runningCurrentA, 'machine', given.runningCurrentA, currentTells),
    unloadedBelowBar: level(
      unloads ? bar(byFlow ? found.stillBelowPa : found.unloadedBelowPa) : null,
      byFlow ? deadHeadFrom : found.unloadedSeen ? 'log' : 'machine',
      given.unloadedBelowBar,
      unloads,
    ),
    standbyBelowBar: level(
      found.standbyPa > 0 ? bar(found.standbyPa) : null,
      'log',
      given.standbyBelowBar,
      isLoadSensing(model),
    ),
    reliefOpensBar: level(
      bar(found.reliefOpensPa),
      found.openingSeen ? 'log' : deadHeadFrom,
      given.reliefOpensBar,
      !isLoadSensing(model) || pressureTells,
    ),
    deadHeadFromBar: level(bar(found.deadHeadFromPa), deadHeadFrom, given.deadHeadFromBar, pressureTells),
    deadHeadBar: level(bar(found.deadHeadPa), deadHeadFrom, given.deadHeadBar, true),
    noFlowShare: level(
      flowTells ? found.noFlowShare : null,
      found.noFlowSeen ? 'log' : 'usual',
      given.noFlowShare,
      flowTells,
    ),
    fullFlowShare: level(
      flowTells ? found.fullFlowShare : null,
      found.fullFlowSeen ? 'log' : 'usual',
      given.fullFlowShare,
      flowTells,
    ),
  }
}
