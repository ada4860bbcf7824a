import type { Location, Quantity } from '@/lib/contract/machine'

/** A quantity at a place: what a sensor may be fitted for. */
export interface Station {
  readonly id: StationId
  readonly quantity: Quantity
  readonly location: Location
}

/** Every station that the account reads, in the order in which a technician walks along the machine. */
export const STATION_IDS = [
  'pressure:pump-outlet',
  'pressure:load',
  'pressure:tank-line',
  'flow:pump-outlet',
  'flow:system-line',
  'flow:relief-return',
  'flow:case-drain',
  'power:motor-supply',
  'current:motor-supply',
  'voltage:motor-supply',
  'speed:motor-shaft',
  'signal:cycle-active',
  'signal:idle',
  'signal:solenoid',
] as const
export type StationId = (typeof STATION_IDS)[number]

export function stationOf(id: StationId): Station {
  const [quantity, location] = id.split(':') as [Quantity, Location]
  return { id, quantity, location }
}

const isStation = (id: string): id is StationId => STATION_IDS.some((one) => one === id)

/**
 * The stations that channels stand for, in the order above. Current with voltage and power factor is power; what no
 * account reads (oil temperature) is left out.
 */
export function stationsOf(
  channels: readonly { readonly quantity: Quantity; readonly location?: Location }[],
): StationId[] {
  const electric = channels.some(({ quantity }) => quantity === 'power-factor') ? ['power:motor-supply'] : []
  const found = channels.map(({ quantity, location }) => {
    if (quantity === 'speed') return 'speed:motor-shaft'
    const atMotor = quantity === 'power' || quantity === 'current' || quantity === 'voltage'
    return `${quantity}:${location ?? (atMotor ? 'motor-supply' : '')}`
  })
  return inOrder([...found, ...electric].filter(isStation))
}

/** The stations named, each once, in the order above. */
export const inOrder = (ids: readonly StationId[]): StationId[] =>
  STATION_IDS.filter((id) => ids.includes(id))
