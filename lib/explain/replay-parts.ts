import type { Input } from '@/lib/contract/explanation'
import type { Analysis, OptionResult } from '@/lib/contract/result'
import type { Grounds, ReplayGround } from './grounds'
import { unpackParts } from './pack-parts'
import { type Part, scaledParts } from './parts'
import { input } from './told'
import { yearParts } from './year-inputs'

/** What a saving is worked out from: model energies before and after, and the settings replayed. */
export function replayInputs(replay: ReplayGround, settings: OptionResult['settings']): Input[] {
  // What a step adds to others lies between two replays, neither of which is the log as it is.
  const isStep = replay.after.length > 0
  return [
    ...(isStep ? [] : [input('energyBefore', replay.beforeKWh, 'kWh', 'fitted')]),
    ...(isStep ? [] : [input('energyAfter', replay.afterKWh, 'kWh', 'fitted')]),
    ...Object.entries(settings).flatMap(([name, value]) =>
      value === null ? [] : [input(name, value, '', 'setting', 'settings')],
    ),
  ]
}

/** Parts of the yearly saving, kWh. */
export function perYear(replay: ReplayGround, { ledgerKWh }: Analysis, grounds: Grounds): Part[] {
  const { year } = grounds
  const hours = year.runningHours > 0 ? year.plannedHours / year.runningHours : 0
  const parts = [
    ...unpackParts(replay.parts),
    ...yearParts(replay.savedShare, replay.samplingShareSd, grounds),
  ]
  return scaledParts(parts, ledgerKWh.electricIn.value * hours)
}
