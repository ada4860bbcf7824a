import { LOCATIONS, QUANTITIES } from '@/lib/contract/machine'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'

/** `pressure:load` as a person says it, `a pressure sensor: load`; anything else as it is. */
export function sensorWords(code: string): string {
  const [first, second] = code.split(':')
  const quantity = QUANTITIES.find((known) => known === first)
  const location = LOCATIONS.find((known) => known === second)
  if (!quantity) return code
  return `a ${QUANTITY_NAMES[quantity].toLowerCase()} sensor${location ? `: ${LOCATION_NAMES[location]}` : ''}`
}
