import type { Site } from '@/lib/contract/site'
import type { Ledger } from '@/lib/ledger/ledger'
import type { OptionContext } from './option'
import { operatingPoints } from './points'
import { supplyUnder } from './replay'
import { electricOfSupplyJ } from './supply-energies'

/** What every option is shown of a recording. */
export function contextOf(ledger: Ledger, site: Site): OptionContext {
  const { supply, model } = supplyUnder(ledger)
  return {
    machine: ledger.machine,
    site,
    ledger,
    model,
    supply,
    points: operatingPoints(supply, model),
    energyJ: (changed) => electricOfSupplyJ(changed, model),
  }
}
