import type { MissingField } from '@/lib/logging-plan/missing-data'
import type { UnitLevel } from '@/lib/logging-plan/scatter'
import type { RangeInput, SensorData } from '@/lib/logging-plan/sensor-data'
import type { ShiftBand } from '@/lib/logging-plan/shift-cover'
import type { StationId } from '@/lib/logging-plan/stations'

/** One sensor in words. */
export interface StationWords {
  readonly name: string
  /** Where on the machine it is fitted. */
  readonly place: string
  /** What it is for, before any figure. */
  readonly serves: string
  /** What to look at when choosing it. */
  readonly choose: readonly string[]
}

/** A gap in the machine's set-up in words. */
export interface MissingWords {
  readonly name: string
  readonly unit: string
  readonly where: string
  readonly serves: string
}

/** A list that is ticked off on paper. */
export interface CheckList {
  readonly title: string
  readonly items: readonly string[]
}

/** What logging plans are said with. */
export interface LoggingPlanWords {
  readonly stations: Readonly<Record<StationId, StationWords>>
  readonly signals: Readonly<Record<SensorData['signal'], string>>
  readonly rangeInputs: Readonly<Record<RangeInput['code'], string>>
  readonly missing: Readonly<Record<MissingField, MissingWords>>
  readonly levels: Readonly<Record<UnitLevel, readonly [one: string, many: string]>>
  readonly shifts: Readonly<Record<ShiftBand['shift'], string>>
  readonly checkLists: readonly CheckList[]
}
