import type { Site } from '@/lib/contract/site'
import { tariffOn } from '@/lib/economics/tariff-version'
import { J_PER_KWH, W_PER_KW } from '@/lib/units'
import type { NarrowMonth } from './narrow-month'

/** What a machine's month adds to the bill beside the price of energy; null where nothing is charged or nothing tells. */
export interface MonthCharges {
  readonly demand: number | null
  /** As if the machine were alone on the bill. */
  readonly reactive: number | null
}

/**
 * Charges of a machine's month by the tariff of its first day. Demand: highest window mean × price × coincidence. Power
 * factor: kvarh per kWh over the free share, on the logged samples alone, × price × their kWh.
 */
export function monthCharges(
  month: string,
  { peakW, reactive }: Pick<NarrowMonth, 'peakW' | 'reactive'>,
  site: Site,
): MonthCharges {
  const tariff = tariffOn(`${month}-01`, site)
  const { demand, reactive: charge } = tariff
  const overKvarh = (free: number) =>
    reactive && Math.max(0, (reactive.varS - free * reactive.electricJ) / J_PER_KWH)
  const kvarh = charge ? overKvarh(charge.freeKvarhPerKWh) : null
  return {
    demand:
      demand && peakW !== null ? (peakW / W_PER_KW) * demand.pricePerKWMonth * demand.coincidenceShare : null,
    reactive: charge && kvarh !== null ? kvarh * charge.pricePerKvarh : null,
  }
}
