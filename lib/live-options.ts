import { yearBasisOf } from '@/lib/analyse'
import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import type { OptionId, OptionResult } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { standardDraws } from '@/lib/economics/draws'
import { accountFor } from '@/lib/ledger/ledger'
import { seededRandom } from '@/lib/numeric/random'
import { CATALOGUE } from '@/lib/options/catalogue'
import { contextOf } from '@/lib/options/context'
import { judge } from '@/lib/options/judge'
import { peaksOf } from '@/lib/options/peak'
import { rangesOf } from '@/lib/options/range'
import { replayAll } from '@/lib/options/replay'
import type { Given, Ranges } from '@/lib/options/settings'
import type { Trace } from '@/lib/samples/trace'

/** An option as a person set it. */
export interface LiveOption {
  /** Its row of the result; the tornado is null: it compares all options. */
  readonly row: OptionResult
  /** How far each of its settings may be moved with the others as they are now. */
  readonly ranges: Ranges
}

/** Answers what one option would do with settings that a person moved. */
export type LiveOptions = (id: OptionId, given: Given) => LiveOption

/**
 * Takes a recording to where its options are replayed and keeps it there: every option then answers for moved
 * settings as the analysis does for those it found best.
 * @throws TankwardError as `analyse` does
 */
export function liveOptions(
  trace: Trace,
  machine: Machine,
  site: Site,
  corrections: readonly Correction[],
): LiveOptions {
  const ledger = accountFor(trace, machine, corrections)
  const year = { ...yearBasisOf(ledger, site), draws: standardDraws(seededRandom(1)) }
  const context = contextOf(ledger, site)
  const peaks = peaksOf(ledger, site)
  return (id, given) => {
    const option = CATALOGUE.find((one) => one.id === id)
    if (!option) throw new Error(id)
    const plan = option.plan(context, given)
    const { change, replayShareSd, replaySd } = plan
    const [replayed] = change ? replayAll(ledger, [{ change, replayShareSd, replaySd }], year.cycles) : [null]
    const { row } = judge(id, plan, replayed, ledger, year, change ? (peaks?.(change) ?? null) : null)
    return { row, ranges: rangesOf(option, context, plan.settings, given) }
  }
}
