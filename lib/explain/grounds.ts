import type { Machine } from '@/lib/contract/machine'
import type { Analysis, OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { Ledger } from '@/lib/ledger/ledger'
import { COVERAGE } from '@/lib/ledger/propagate'
import type { ReplayOfOptions } from '@/lib/options/rank'
import { electricPerHeat } from '@/lib/options/year-saving'
import { J_PER_KWH, S_PER_HOUR, W_PER_KW } from '@/lib/units'
import { accountParts } from './account-parts'
import { type AuxiliaryGround, auxiliaryGround, besideParts } from './beside'
import type { GroundRule } from './merged-rules'
import { type ModelGround, modelGrounds } from './model-grounds'
import { type PackedParts, packParts } from './pack-parts'
import { closedParts, evenPart, type Part, partsOfSum } from './parts'
import { type PlateField, plateFields } from './plate-fields'
import { findingParts, reliefParts } from './relief-parts'
import { groundRules } from './rules'
import { type SensorGround, sensorGrounds } from './sensor-grounds'

/** What a replay of one or several options rests on. */
export interface ReplayGround {
  readonly options: readonly OptionId[]
  /** Options done before, where this is what the last of `options` adds to them. */
  readonly after: readonly OptionId[]
  /** Highest mean input over a window of the demand charge, kW; null where none is charged or covered. */
  readonly peakBeforeKW: number | null
  readonly peakAfterKW: number | null
  readonly beforeKWh: number
  readonly afterKWh: number
  readonly lessHeatKW: number
  readonly savedShare: number
  readonly parts: PackedParts
  /** Relative standard deviation from seeing only these cycles; null with fewer than three. */
  readonly samplingShareSd: number | null
}

/** What turns a log's energy into a year's. */
export interface YearGround {
  readonly plannedHours: number
  readonly runningHours: number
  readonly pricePerKWh: number
  /** How far the year's hours may be from the planned ones, 95 %, as a share. */
  readonly plannedHoursLimitShare: number
  /** Relative standard deviation of idle energy from seeing only these cycles; null with fewer than three. */
  readonly idleSamplingShareSd: number | null
  /** Whether the price is one for all hours, or the mean over the site's bands as the log's energy fell in them. */
  readonly priceIsMean: boolean
  /** Electricity per heat of what cools the oil, and whether the machine or the site says so. */
  readonly electricPerHeat: number
  readonly coolingIsMachines: boolean
}

/**
 * What a result rests on beyond what it says itself, small enough to be stored beside it: from both of them every figure
 * can be explained without the samples.
 */
export interface Grounds {
  readonly version: 1
  readonly machine: {
    readonly pumpKind: Machine['pump']['kind']
    readonly reliefKind: Machine['relief']['kind']
    readonly plate: readonly PlateField[]
  }
  readonly sensors: readonly SensorGround[]
  readonly models: readonly ModelGround[]
  readonly rules: readonly GroundRule[]
  readonly loggedHours: number
  readonly auxiliaries: AuxiliaryGround | null
  readonly year: YearGround
  /** Parts of intervals by figure. */
  readonly parts: Readonly<Record<string, PackedParts>>
  readonly replays: readonly ReplayGround[]
}

/** Parts of a replayed share, as `replayAll` puts its interval together. */
function shareParts({ replayed, weights }: ReplayOfOptions): Part[] {
  const { grounds, savedShare, reach } = replayed
  const parts = partsOfSum(grounds.sensitivity, weights)
  if (grounds.replaySd !== 0) parts.push(evenPart('replay', COVERAGE * Math.abs(grounds.replaySd)))
  if (grounds.optionSd > 0) parts.push(evenPart('option-model', COVERAGE * grounds.optionSd))
  const shown = { value: savedShare, low: savedShare - reach.below, high: savedShare + reach.above }
  return closedParts(parts, shown, 'nothing-beyond-all')
}

/** Collects what a result rests on, while the ledger is there to be asked. */
export function groundsOf(
  ledger: Ledger,
  analysis: Analysis,
  site: Site,
  replays: readonly ReplayOfOptions[],
  year: {
    readonly runningHours: number
    readonly pricePerKWh: number
    readonly idleSpread: number | null
  },
): Grounds {
  const { machine, segmentation } = ledger
  const loggedS = segmentation.steps.reduce((sum, step) => sum + step.durationS, 0)
  const parts = {
    ...accountParts(ledger, analysis),
    ...besideParts(ledger, analysis),
    ...reliefParts(ledger, analysis),
    ...findingParts(analysis),
  }
  return {
    version: 1,
    machine: {
      pumpKind: machine.pump.kind,
      reliefKind: machine.relief.kind,
      plate: plateFields(ledger.plate),
    },
    sensors: sensorGrounds(ledger),
    models: modelGrounds(ledger),
    rules: groundRules(ledger),
    loggedHours: loggedS / S_PER_HOUR,
    auxiliaries: auxiliaryGround(ledger),
    year: {
      plannedHours: site.plannedHoursPerYear,
      runningHours: year.runningHours,
      pricePerKWh: year.pricePerKWh,
      plannedHoursLimitShare: site.plannedHoursLimitShare,
      idleSamplingShareSd: year.idleSpread,
      priceIsMean: Boolean(site.tariff?.bands.length),
      electricPerHeat: electricPerHeat(ledger, site),
      coolingIsMachines: machine.cooling !== undefined,
    },
    parts: Object.fromEntries(Object.entries(parts).map(([figure, of]) => [figure, packParts(of)])),
    replays: replays.map((one) => ({
      options: one.options,
      after: one.after,
      peakBeforeKW: one.peaks && one.peaks.beforeW / W_PER_KW,
      peakAfterKW: one.peaks && one.peaks.afterW / W_PER_KW,
      beforeKWh: one.replayed.grounds.beforeJ / J_PER_KWH,
      afterKWh: one.replayed.grounds.afterJ / J_PER_KWH,
      lessHeatKW: one.replayed.lessHeatW / W_PER_KW,
      savedShare: one.replayed.savedShare,
      parts: packParts(shareParts(one)),
      samplingShareSd: one.replayed.samplingShareSd,
    })),
  }
}
