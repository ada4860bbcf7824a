import type { Machine } from '@/lib/contract/machine'

/** A number of a nameplate by its path in the machine file, with the unit its name ends in; what has none is a plain number. */
export interface PlateField {
  readonly field: string
  readonly value: number
  readonly unit: string
}

/** Endings of names that say the unit; a share is of 1. */
const UNIT_ENDINGS: readonly (readonly [ending: string, unit: string])[] = [
  ['KW', 'kW'],
  ['Cm3', 'cm³'],
  ['Bar', 'bar'],
  ['Lpm', 'L/min'],
  ['Rpm', 'rpm'],
  ['Hz', 'Hz'],
  ['Efficiency', '1'],
  ['A', 'A'],
  ['V', 'V'],
  ['S', 's'],
]

const unitOf = (name: string) => UNIT_ENDINGS.find(([ending]) => name.endsWith(ending))?.[1] ?? ''

function numbersIn(value: unknown, path: string): PlateField[] {
  if (typeof value === 'number') return [{ field: path, value, unit: unitOf(path) }]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([name, inner]) => numbersIn(inner, `${path}.${name}`))
}

/** Every number on the nameplates of motor, pump and relief. */
export function plateFields({ motor, pump, relief }: Machine): PlateField[] {
  return [...numbersIn(motor, 'motor'), ...numbersIn(pump, 'pump'), ...numbersIn(relief, 'relief')]
}
