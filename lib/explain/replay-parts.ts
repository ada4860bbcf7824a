import type { Input } from '@/lib/contract/explanation'
import type { Analysis, OptionResult } from '@/lib/contract/result'
import { COVERAGE } from '@/lib/ledger/propagate'
import { FEW_CYCLES_SHARE_SD } from '@/lib/options/judge'
import type { Grounds, ReplayGround } from './grounds'
import { unpackParts } from './pack-parts'
import { evenPart, type Part, scaledParts } from './parts'
import { input } from './told'

/** Parts of a replayed share over a year: the share's own and the spread between cycles. */
function yearParts({ parts, savedShare, samplingShareSd }: ReplayGround): Part[] {
  const half = COVERAGE * (samplingShareSd ?? FEW_CYCLES_SHARE_SD) * Math.abs(savedShare)
  const source = samplingShareSd === null ? 'few-cycles' : 'cycle-spread'
  return [...unpackParts(parts), ...(half > 0 ? [evenPart(source, half)] : [])]
}

/** What a saving is worked out from: model energies before and after, and the settings replayed. */
export function replayInputs(replay: ReplayGround, settings: OptionResult['settings']): Input[] {
  return [
    input('energyBefore', replay.beforeKWh, 'kWh', 'fitted'),
    input('energyAfter', replay.afterKWh, 'kWh', 'fitted'),
    ...Object.entries(settings).flatMap(([name, value]) =>
      value === null ? [] : [input(name, value, '', 'setting', 'settings')],
    ),
  ]
}

/** Parts of the yearly saving, kWh. */
export function perYear(replay: ReplayGround, { ledgerKWh }: Analysis, { year }: Grounds): Part[] {
  const hours = year.runningHours > 0 ? year.plannedHours / year.runningHours : 0
  return scaledParts(yearParts(replay), ledgerKWh.electricIn.value * hours)
}
