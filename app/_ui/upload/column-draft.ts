import type { ColumnAnswer } from '@/app/_server/inspection-shapes'
import { LOCATIONS_OF, UNITS_OF } from '@/app/_ui/labels'
import {
  type ChannelDeclaration,
  LOCATIONS,
  type Location,
  QUANTITIES,
  type Quantity,
} from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'
import { numberOf } from '../setup/typed-number'

/** A quantity at a place as one choice, `pressure pump-outlet`; empty for a column that is not used. */
export type Use = string

/** What a person has chosen for a column so far. */
export interface ColumnDraft {
  readonly index: number
  readonly column: string
  readonly use: Use
  /** Empty: as the file writes it. */
  readonly unit: Unit | ''
  /** Ends of a raw signal, as typed; empty where the readings are in the unit itself. */
  readonly rawLow: string
  readonly rawHigh: string
  readonly low: string
  readonly high: string
  /** What goes along unseen while quantity and place stay as they are. */
  readonly kept: Pick<ChannelDeclaration, 'accuracy' | 'scale' | 'evidence'>
}

export const roleOf = (quantity: Quantity, location: Location): Use => `${quantity} ${location}`

/** Every quantity with its places. */
export const USES: readonly (readonly [Quantity, readonly Location[]])[] = QUANTITIES.map((quantity) => [
  quantity,
  LOCATIONS_OF[quantity],
])

export function partsOf(use: Use): { quantity: Quantity; location: Location } | null {
  const [first, second] = use.split(' ')
  const quantity = QUANTITIES.find((one) => one === first)
  const location = LOCATIONS.find((one) => one === second)
  return quantity && location ? { quantity, location } : null
}

/** True for a column whose own unit is that of a transmitter's signal. */
export const isRaw = (column: ColumnAnswer): boolean =>
  column.unused === 'raw-signal' || /^(?:mA|mV|V)$/.test(column.unitText ?? '')

/** What the file's columns are read as, to be changed. */
export function draftsOf(columns: readonly ColumnAnswer[]): ColumnDraft[] {
  return columns.map(({ index, column, channel }) => {
    const { quantity, location, unit, accuracy, scale, evidence } = channel ?? {}
    return {
      index,
      // A file without a header takes its columns by number; one that was read by declared names keeps those.
      column: channel?.column ?? column,
      use: quantity ? roleOf(quantity, location ?? LOCATIONS_OF[quantity][0]) : '',
      unit: unit ?? '',
      rawLow: '',
      rawHigh: '',
      low: '',
      high: '',
      kept: {
        ...(accuracy ? { accuracy } : {}),
        ...(scale ? { scale } : {}),
        ...(evidence ? { evidence } : {}),
      },
    }
  })
}

/** Columns as their names and units speak of them, where they could not be read as they are declared. */
export function suggestedDrafts(columns: readonly ColumnAnswer[]): ColumnDraft[] {
  return draftsOf(columns).map((draft, i) => {
    const { kind, named, namedLocation, unitQuantity } = columns[i]
    const quantity = named === 'never' || kind !== 'number' ? null : (unitQuantity ?? named)
    if (quantity === null) return draft
    const location = LOCATIONS_OF[quantity].find((one) => one === namedLocation) ?? LOCATIONS_OF[quantity][0]
    return withUse(draft, roleOf(quantity, location), columns[i])
  })
}

/** A column that is to be something else from now on; its unit as the file writes it, where that fits. */
export function withUse(draft: ColumnDraft, use: Use, column: ColumnAnswer): ColumnDraft {
  const parts = partsOf(use)
  const fits = parts !== null && column.unitQuantity === parts.quantity
  const isSame = partsOf(draft.use)?.quantity === parts?.quantity
  const unit = fits || !parts ? '' : UNITS_OF[parts.quantity][0]
  return { ...draft, use, unit: isSame ? draft.unit : unit, kept: isSame ? draft.kept : {} }
}

export function withUnit(draft: ColumnDraft, unit: ColumnDraft['unit']): ColumnDraft {
  const { scale: _, ...kept } = draft.kept
  // A scale from a unit the contract lacks (l/s) belongs to that unit.
  return { ...draft, unit, kept }
}

type Ends = readonly [number, number, number, number]

/** The four ends as numbers, `none` where nothing is typed, null where they are not all numbers. */
function endsOf(draft: ColumnDraft): Ends | 'none' | null {
  const texts = [draft.rawLow, draft.rawHigh, draft.low, draft.high]
  if (texts.every((text) => text.trim() === '')) return 'none'
  const numbers = texts.map(numberOf).filter((value) => typeof value === 'number')
  const [rawLow, rawHigh, low, high] = numbers
  return numbers.length === texts.length ? [rawLow, rawHigh, low, high] : null
}

/** Codes of what is still wrong with a column, or null. */
export function draftFault(draft: ColumnDraft): 'ends-missing' | 'ends-equal' | null {
  const ends = endsOf(draft)
  if (draft.use === '' || ends === 'none') return null
  if (ends === null) return 'ends-missing'
  return ends[0] === ends[1] || ends[2] === ends[3] ? 'ends-equal' : null
}

export const hasPumpPressure = (drafts: readonly ColumnDraft[]): boolean =>
  drafts.some(({ use }) => use === roleOf('pressure', 'pump-outlet'))

/** The columns that are used, as MACHINE.json declares them. */
export function channelsOf(drafts: readonly ColumnDraft[]): ChannelDeclaration[] {
  return drafts.flatMap((draft): ChannelDeclaration[] => {
    const parts = partsOf(draft.use)
    if (!parts) return []
    const ends = draftFault(draft) === null ? endsOf(draft) : null
    const scale: Pick<ChannelDeclaration, 'scale'> =
      ends === null || ends === 'none' ? {} : { scale: { from: [ends[0], ends[1]], to: [ends[2], ends[3]] } }
    const unit = draft.unit || (scale.scale ? UNITS_OF[parts.quantity][0] : undefined)
    return [{ column: draft.column, ...parts, ...(unit ? { unit } : {}), ...draft.kept, ...scale }]
  })
}
