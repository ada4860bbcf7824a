import type { Site } from '@/lib/contract/site'
import { priceStretches, weekMeanPrice } from '@/lib/economics/tariff'
import type { Account } from '@/lib/ledger/account'
import { ACCOUNT_KEYS } from '@/lib/ledger/account-series'
import { eachPiece } from '@/lib/ledger/pieces'
import { readerOf } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'

const MS_PER_S = 1000
const ELECTRIC_IN = ACCOUNT_KEYS.indexOf('electricIn')

/**
 * Mean price of a kWh over a recording, weighted by the electric energy drawn in each price band.
 * Without a date or without energy: the mean over a plain week.
 */
export function meanPricePerKWh(
  account: Account,
  trace: Pick<Trace, 'timeS' | 'holdS' | 'startedAtMs'>,
  site: Site,
): number {
  const { startedAtMs } = trace
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  const last = timeS.length - 1
  if (startedAtMs === null || last < 0) return weekMeanPrice(site)
  const endMs = startedAtMs + (timeS.at(last) + holdS.at(last)) * MS_PER_S
  const stretches = priceStretches(startedAtMs, endMs, site)
  const edgesS = stretches.slice(0, -1).map((stretch) => (stretch.endMs - startedAtMs) / MS_PER_S)
  let energyJ = 0
  let weighted = 0
  eachPiece(account, trace, edgesS, ({ stretch, energiesJ }) => {
    energyJ += energiesJ[ELECTRIC_IN]
    weighted += energiesJ[ELECTRIC_IN] * stretches[stretch].pricePerKWh
  })
  return energyJ > 0 ? weighted / energyJ : weekMeanPrice(site)
}
