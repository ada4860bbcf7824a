import type { Basis } from '@/lib/contract/estimate'
import type { IntervalPart } from '@/lib/contract/explanation'
import type { Machine } from '@/lib/contract/machine'
import { type OptionId, type PhaseKind, STREAMS, type Stream } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { type GroundRule, mergedRules } from '@/lib/explain/merged-rules'
import { partsOfSum, scaledParts, toldParts } from '@/lib/explain/parts'
import { groundRules } from '@/lib/explain/rules'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { reachOfSum } from '@/lib/ledger/propagate'
import { notSeparable } from '@/lib/ledger/separable'
import { shareIndex } from '@/lib/ledger/totals'
import { CATALOGUE } from '@/lib/options/catalogue'
import { contextOf } from '@/lib/options/context'
import { readerOf } from '@/lib/samples/samples'
import { J_PER_KWH } from '@/lib/units'
import type { DutyMix } from './duty-mix'
import { type RehearsedTrace, rehearsedTrace } from './rehearsed-trace'
import type { StationId } from './stations'

/** What the engine makes of a visit with these sensors. Shares are of electric input unless said otherwise. */
export interface Rehearsal {
  readonly stations: readonly StationId[]
  /** Input while idle and what goes over the relief or to tank outside idle, at the meter. */
  readonly wasteShare: number
  /** 95 % half-widths of that waste as a share of it; null where nothing tells the input. */
  readonly wasteReach: { readonly below: number; readonly above: number } | null
  /** What the half-width of the waste consists of. */
  readonly wasteParts: readonly IntervalPart[]
  readonly streams: Readonly<Record<'electricIn' | Stream, StreamKnown | null>>
  readonly notSeparable: readonly { readonly stream: string; readonly sensor: string }[]
  /** Running time that passes for another kind of phase than it is. */
  readonly mistold: readonly Mistold[]
  readonly unjudged: readonly OptionId[]
  /** How flows and powers are reached. */
  readonly rules: readonly GroundRule[]
}

/** How well one line of the account is known: half-width of its 95 % interval over the input; what it rests on. */
export interface StreamKnown {
  readonly halfShare: number
  readonly basis: Basis
}

export interface Mistold {
  readonly kind: PhaseKind
  readonly as: PhaseKind
  readonly timeShare: number
}

const WASTE = new Map([
  [shareIndex('idle'), 1],
  [shareIndex('overRelief'), 1],
])
/** Edges of phases lie between samples: less than this share of the time is no other kind. */
const LEAST_MISTOLD_SHARE = 0.01

function mistoldIn({ segmentation }: Ledger, { states, trace }: RehearsedTrace): Mistold[] {
  const seconds = new Map<string, Mistold>()
  const holdS = readerOf(trace.holdS)
  let runningS = 0
  for (const { kind: as, from, to } of segmentation.steps) {
    for (let i = from; i < to; i++) {
      const { kind } = states[i]
      if (kind !== 'stopped') runningS += holdS.at(i)
      if (kind === as) continue
      const key = `${kind} ${as}`
      const before = seconds.get(key)?.timeShare ?? 0
      seconds.set(key, { kind, as, timeShare: before + holdS.at(i) })
    }
  }
  return [...seconds.values()]
    .map((one) => ({ ...one, timeShare: one.timeShare / runningS }))
    .filter(({ timeShare }) => timeShare > LEAST_MISTOLD_SHARE)
}

/**
 * The machine without what was declared of its phases and of its feeder: levels belong to other recordings, and
 * auxiliaries are known by their own clamp.
 */
function withoutGiven({ auxiliaries: _, levels: __, ...machine }: Machine): Machine {
  return machine
}

/**
 * Asks the engine what a visit with these sensors would tell, on a machine that is as its plates say. Null without the
 * pump's pressure, which every account needs.
 */
export function rehearse(
  machine: Machine,
  site: Site,
  mix: DutyMix,
  stations: readonly StationId[],
  how: { readonly withRest: boolean } = { withRest: true },
): Rehearsal | null {
  if (!stations.includes('pressure:pump-outlet')) return null
  const plain = withoutGiven(machine)
  const rehearsed = rehearsedTrace(plain, mix, stations, how)
  const ledger = accountFor(rehearsed.trace, plain)
  const figures = ledgerKWh(ledger)
  const input = figures.electricIn.value
  const known = (stream: 'electricIn' | Stream): StreamKnown | null => {
    const line = figures[stream]
    if (!line || !(input > 0)) return null
    return { halfShare: (line.high - line.low) / 2 / input, basis: line.basis }
  }
  let wasteJ = 0
  for (const index of WASTE.keys()) wasteJ += ledger.totals[index]
  const reach = reachOfSum(ledger.sensitivity, WASTE)
  const context = contextOf(ledger, site)
  return {
    stations,
    wasteShare: wasteJ / J_PER_KWH / input,
    wasteReach: wasteJ > 0 ? { below: reach.below / wasteJ, above: reach.above / wasteJ } : null,
    wasteParts:
      wasteJ > 0 ? toldParts(scaledParts(partsOfSum(ledger.sensitivity, WASTE), 1 / wasteJ), () => null) : [],
    streams: Object.fromEntries(
      (['electricIn', ...STREAMS] as const).map((stream) => [stream, known(stream)]),
    ) as Rehearsal['streams'],
    notSeparable: notSeparable(ledger),
    mistold: mistoldIn(ledger, rehearsed),
    unjudged: CATALOGUE.filter((option) => !option.plan(context).judged).map(({ id }) => id),
    rules: mergedRules(groundRules(ledger)),
  }
}
