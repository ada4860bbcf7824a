import type { Quantity } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { tick } from '../format'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'

/** `P1 [bar]: pressure, pump outlet, 0.5 % of 250 bar`. */
export function sensorsOf(result: Result, quantities: readonly Quantity[]): string[] {
  return result.log.channels
    .filter((channel) => quantities.includes(channel.quantity))
    .map((channel) => {
      const { accuracy, unit = '' } = channel
      const place = channel.location ? `, ${LOCATION_NAMES[channel.location]}` : ''
      if (channel.quantity === 'signal') return `${channel.column}: signal${place}`
      const limit = !accuracy
        ? 'accuracy not declared: 1 % of the largest reading assumed'
        : 'percentOfFullScale' in accuracy
          ? `± ${tick(accuracy.percentOfFullScale)} % of ${tick(accuracy.fullScale)} ${unit}`
          : `± ${tick(accuracy.percentOfReading)} % of reading`
      return `${channel.column}: ${QUANTITY_NAMES[channel.quantity].toLowerCase()}${place}, ${limit}`
    })
}
