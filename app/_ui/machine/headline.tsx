import type { Estimate } from '@/lib/contract/estimate'
import type { Result } from '@/lib/contract/result'
import { Figure } from '../figure'
import { count, duration, NO_DATA, percent } from '../format'

/** A share of the input with its interval as percent; the input's own spread is left out of the ratio. */
function shareOf(part: Estimate | null, whole: Estimate): Estimate | null {
  if (!part || !(whole.value > 0)) return null
  const per = (x: number) => x / whole.value
  return { value: per(part.value), low: per(part.low), high: per(part.high), basis: part.basis }
}

/** The first figures a reader wants of a log, each of which opens to how it was reached. */
export function Headline({ result, logId }: { result: Result; logId: string }) {
  const how = (figure: string) => ({ logId, figure })
  const { ledgerKWh, idle, cycles, site, log } = result
  const work = ledgerKWh.work ?? ledgerKWh.intoSystem
  return (
    <div className="figures">
      <Figure
        name="Electric input"
        estimate={ledgerKWh.electricIn}
        unit="kWh"
        how={how('ledgerKWh.electricIn')}
      >
        in {duration(log.durationS)}
      </Figure>
      <Figure
        name="Of it while idle"
        estimate={shareOf(idle.electricKWh, ledgerKWh.electricIn)}
        scale={100}
        unit="%"
        how={how('shareOfInput.idle')}
      />
      <Figure
        name="Idle costs"
        estimate={idle.costPerYear}
        unit={`${site.currency}/yr`}
        how={how('idle.costPerYear')}
      >
        scaled to planned hours
      </Figure>
      <Figure
        name="Over the relief"
        estimate={ledgerKWh.overRelief}
        unit="kWh"
        how={how('ledgerKWh.overRelief')}
      >
        {percent(ledgerKWh.overRelief.value / ledgerKWh.electricIn.value)} of input
      </Figure>
      <Figure
        name={ledgerKWh.work ? 'Reaches the load' : 'Reaches the system'}
        estimate={shareOf(work, ledgerKWh.electricIn)}
        scale={100}
        unit="% of input"
        how={how(ledgerKWh.work ? 'shareOfInput.work' : 'shareOfInput.intoSystem')}
      />
      <Figure
        name="Energy per cycle"
        estimate={cycles.kWhPerCycle}
        unit="kWh"
        absent={cycles.count ? NO_DATA : 'no cycles found'}
        how={how(cycles.kWhPerCycle ? 'cycles.kWhPerCycle' : 'cycles.count')}
      >
        {count(cycles.count)} cycles
      </Figure>
    </div>
  )
}
