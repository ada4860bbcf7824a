import { Scroll } from '@/app/_ui/scroll'
import { QUANTITIES } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { Explain } from '../figure'
import { percent, tick } from '../format'
import { OPTION_WORDS } from '../labels'
import { sensorsOf } from './explanations'

/** Sets of options that were replayed together, with the order to do them in. */
export function Combinations({ result }: { result: Result }) {
  const { combinations, site } = result
  if (!combinations.length) {
    return <p className="nodata">No combination was replayed: fewer than two options fit together here.</p>
  }
  return (
    <>
      <Scroll label="Replayed together">
        <table>
          <caption>Replayed together, never added up from single savings</caption>
          <thead>
            <tr>
              <th scope="col">In this order</th>
              <th scope="col" className="num">
                Saved <span className="unit">kWh/yr, ± 95 %</span>
              </th>
              <th scope="col" className="num">
                Net present value <span className="unit">{site.currency}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {combinations.map((set) => (
              <tr key={set.options.join()}>
                <th scope="row">
                  <ol className="steps">
                    {set.order.map((id) => (
                      <li key={id}>{OPTION_WORDS[id].title}</li>
                    ))}
                  </ol>
                </th>
                <EstimateCell estimate={set.savedKWhPerYear} />
                <EstimateCell estimate={set.netPresentValue} />
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <BasisLegend />
      <details className="twin">
        <summary>How these are reached</summary>
        <Explain
          explanation={{
            formula:
              'All options of a set change the supply at once; the log is replayed with it. Saving = model before − model after, × planned hours ÷ logged running hours. Net present value as for a single option, investments added.',
            inputs: [
              `${tick(site.plannedHoursPerYear)} planned h/yr`,
              `${tick(site.lifetimeYears)} years at ${percent(site.discountRate)} a year`,
            ],
            sensors: sensorsOf(result, QUANTITIES),
            note: 'The order puts first what saves most, then what adds most to those already done. Options that exclude each other never stand in one set.',
          }}
        />
      </details>
    </>
  )
}
