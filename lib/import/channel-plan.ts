import type { Accuracy, ChannelDeclaration, Location, Quantity, SensorEvidence } from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'
import type { WrittenUnit } from './unit-words'

/** A column to be read as a channel; what is null is settled from the whole column's values. */
export interface ChannelPlan {
  readonly index: number
  readonly column: string
  readonly quantity: Quantity | null
  readonly location: Location | null
  /** Contract unit, null where neither declaration nor header names one. */
  readonly unit: Unit | null
  readonly written: WrittenUnit | null
  readonly scale: NonNullable<ChannelDeclaration['scale']> | null
  readonly accuracy: Accuracy | null
  readonly evidence?: SensorEvidence
  readonly declared: boolean
  /** Unit text behind every number of the column, to be stripped. */
  readonly cellUnit: string | null
  readonly isSwitch: boolean
}
