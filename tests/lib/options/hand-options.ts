import type { Machine } from '@/lib/contract/machine'
import { type Site, siteSchema } from '@/lib/contract/site'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import type { MachineModel } from '@/lib/machine/machine-model'
import { CATALOGUE } from '@/lib/options/catalogue'
import { contextOf } from '@/lib/options/context'
import { carriedOut, dutyOfSupply } from '@/lib/options/duty'
import type { OptionPlan } from '@/lib/options/option'
import { rankReplayed } from '@/lib/options/rank'
import type { Given } from '@/lib/options/settings'
import type { SupplyStep } from '@/lib/options/supply'
import { HOLD, IDLE, METER, MOVE } from '../../laws/hand-duty'
import { HAND_MACHINE, handRunKW } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

export const FITTED: readonly MeterName[] = ['loadPressure', 'systemFlow', 'power']
/** One stroke: 20 s idle at 160 bar, 6 s moving at 80, 3 s holding 140 on the load at 160, 5 s metering at 155.2. */
export const STROKE: readonly Piece[] = [IDLE, MOVE, HOLD, METER]
export const STROKES = 10
export const DUTY = repeat(STROKE, STROKES)

/** Electric energy of one stroke as it runs now, kJ. */
export const STROKE_KJ = 20 * handRunKW(160) + 6 * handRunKW(80) + 3 * handRunKW(160) + 5 * handRunKW(155.2)

export const ledgerOf = (
  pieces: readonly Piece[] = DUTY,
  machine: Machine = HAND_MACHINE,
  fitted: readonly MeterName[] = FITTED,
  rateHz = 10,
): Ledger => accountFor(handTrace(pieces, { fitted, rateHz }), machine)

export const siteWith = (site: Partial<Site> = {}): Site => ({ ...siteSchema.parse({}), ...site })

export function rankedFor(ledger: Ledger, site: Site = siteWith(), pricePerKWh = 0.2) {
  const runningHours = ledger.segmentation.steps.reduce((sum, step) => sum + step.durationS, 0) / 3600
  return rankReplayed(ledger, { site, runningHours, pricePerKWh, cycles: [] }).ranked
}

/** Electric energy of a supply by the model, J. */
export const electricOfSupplyJ = (supply: readonly SupplyStep[], model: MachineModel) =>
  carriedOut(dutyOfSupply(supply), null, model).electricJ

/** What one option plans on a ledger, with settings that a person moved. */
export function planWith(id: string, ledger: Ledger, given: Given): OptionPlan {
  const option = CATALOGUE.find((one) => one.id === id)
  if (!option) throw new Error(id)
  return option.plan(contextOf(ledger, siteWith()), given)
}

/** What one option plans on a ledger. */
export const planOf = (id: string, ledger: Ledger): OptionPlan => planWith(id, ledger, {})

export const reasonsOf = (id: string, ledger: Ledger) => planOf(id, ledger).reasons.map(({ code }) => code)

/** The saved share of an option on a ledger, and the settings it reports. */
export function savingOn(ledger: Ledger, id: string) {
  const found = rankedFor(ledger).options.find((option) => option.id === id)
  if (!found?.savedShare) throw new Error(`${id}: ${JSON.stringify(found?.reasons)}`)
  return { share: found.savedShare, settings: found.settings, option: found }
}
