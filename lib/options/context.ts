import type { Site } from '@/lib/contract/site'
import type { Ledger } from '@/lib/ledger/ledger'
import { carriedOut } from './duty'
import type { OptionContext, Replayer } from './option'
import { dutyUnder, type Points } from './points'
import { recordingOf } from './recording'

/** What every option is shown of a recording. */
export function contextOf(ledger: Ledger, site: Site): OptionContext {
  const recording = recordingOf(ledger)
  const { supply, model, pointsAt } = recording
  const replayer = (points: Points): Replayer => {
    const duty = dutyUnder(points, recording)
    return { ...carriedOut(duty, null, model), with: (change) => carriedOut(duty, change, model) }
  }
  const { all, few } = pointsAt([])
  return {
    machine: ledger.machine,
    site,
    ledger,
    model,
    supply,
    duty: replayer(all),
    rough: replayer(few),
    roughAt: (agesS) => replayer(pointsAt(agesS).few),
  }
}
