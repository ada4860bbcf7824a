import type { TracePanel } from '@/app/_charts/trace-option'
import type { StoredChannel } from '@/db/schema/logs'
import { QUANTITIES, type Quantity } from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'

/** Order of the panels from the top; the first ones are shown, the rest on request. */
const ORDER: readonly Quantity[] = ['pressure', 'flow', 'power', 'current']

const SHOWN_IN: Readonly<Record<Quantity, Unit>> = {
  pressure: 'bar',
  flow: 'L/min',
  current: 'A',
  voltage: 'V',
  power: 'kW',
  'power-factor': '1',
  speed: 'rpm',
  temperature: '°C',
  signal: '1',
}

const rank = (quantity: Quantity) => {
  const at = ORDER.indexOf(quantity)
  return at < 0 ? ORDER.length : at
}

/** The logged channels as panels, one a quantity; the supply's own sensor first in each. */
export function tracePanels(channels: readonly StoredChannel[]): TracePanel[] {
  return QUANTITIES.filter((quantity) => channels.some((channel) => channel.quantity === quantity))
    .sort((a, b) => rank(a) - rank(b))
    .map((quantity) => {
      const unit = SHOWN_IN[quantity]
      return {
        title: QUANTITY_NAMES[quantity],
        unit: unit === '1' ? '–' : unit,
        isUsual: ORDER.includes(quantity),
        channels: channels
          .filter((channel) => channel.quantity === quantity)
          .sort((a, b) => Number(b.location === 'pump-outlet') - Number(a.location === 'pump-outlet'))
          .map((channel) => ({
            name: channel.name,
            label: `${QUANTITY_NAMES[quantity]}, ${LOCATION_NAMES[channel.location]}`,
            unit,
          })),
      }
    })
}
