import type { OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { Ledger } from '@/lib/ledger/ledger'
import type { Cycle } from '@/lib/phases/cycles'
import { CATALOGUE } from './catalogue'
import { contextOf } from './context'
import type { OptionPlan } from './option'
import { type Replayed, replayAll } from './replay'
import type { Given } from './settings'

/** An option as a person set it, and what it then saves; null with the plan's reasons where it cannot be carried out. */
export interface Moved {
  readonly plan: OptionPlan
  readonly replayed: Replayed | null
}

/** Plans one option anew with settings that a person moved, and replays it alone. */
export function replayMoved(
  ledger: Ledger,
  site: Site,
  cycles: readonly Cycle[],
  id: OptionId,
  given: Given,
): Moved {
  const option = CATALOGUE.find((one) => one.id === id)
  if (!option) throw new Error(id)
  const plan = option.plan(contextOf(ledger, site), given)
  const { change, replayShareSd, replaySd } = plan
  if (!change) return { plan, replayed: null }
  const [replayed] = replayAll(ledger, [{ change, replayShareSd, replaySd }], cycles)
  return { plan, replayed }
}
