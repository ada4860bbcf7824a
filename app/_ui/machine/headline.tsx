import type { Estimate } from '@/lib/contract/estimate'
import type { Result } from '@/lib/contract/result'
import { Figure } from '../figure'
import { count, duration, NO_DATA, percent } from '../format'
import { explanationsOf } from './explanations'

/** A share of the input with its interval as percent; the input's own spread is left out of the ratio. */
function shareOf(part: Estimate | null, whole: Estimate): Estimate | null {
  if (!part || !(whole.value > 0)) return null
  const per = (x: number) => x / whole.value
  return { value: per(part.value), low: per(part.low), high: per(part.high), basis: part.basis }
}

/** The first figures a reader wants of a log, each of which opens to how it was reached. */
export function Headline({ result }: { result: Result }) {
  const how = explanationsOf(result)
  const { ledgerKWh, idle, cycles, site, log } = result
  const work = ledgerKWh.work ?? ledgerKWh.intoSystem
  return (
    <div className="figures">
      <Figure name="Electric input" estimate={ledgerKWh.electricIn} unit="kWh" explanation={how.electricIn}>
        in {duration(log.durationS)}
      </Figure>
      <Figure
        name="Of it while idle"
        estimate={shareOf(idle.electricKWh, ledgerKWh.electricIn)}
        scale={100}
        unit="%"
        explanation={how.idleShare}
      />
      <Figure
        name="Idle costs"
        estimate={idle.costPerYear}
        unit={`${site.currency}/yr`}
        explanation={how.idleCost}
      >
        scaled to planned hours
      </Figure>
      <Figure name="Over the relief" estimate={ledgerKWh.overRelief} unit="kWh" explanation={how.overRelief}>
        {percent(ledgerKWh.overRelief.value / ledgerKWh.electricIn.value)} of input
      </Figure>
      <Figure
        name={ledgerKWh.work ? 'Reaches the load' : 'Reaches the system'}
        estimate={shareOf(work, ledgerKWh.electricIn)}
        scale={100}
        unit="% of input"
        explanation={how.wireToWork}
      />
      <Figure
        name="Energy per cycle"
        estimate={cycles.kWhPerCycle}
        unit="kWh"
        absent={cycles.count ? NO_DATA : 'no cycles found'}
        explanation={how.cycle}
      >
        {count(cycles.count)} cycles
      </Figure>
    </div>
  )
}
