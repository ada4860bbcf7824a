import { Scroll } from '@/app/_ui/scroll'
import type { Result } from '@/lib/contract/result'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { HowList, type HowRow } from '../explain/how-list'
import { OPTION_WORDS } from '../labels'

/** Sets of options that were replayed together, with the order to do them in. */
export function Combinations({ result, logId }: { result: Result; logId: string }) {
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
        <p className="soft">
          All options of a set change the supply at once and the log is replayed with it. The order puts first
          what saves most, then what adds most to those already done. Options that exclude each other never
          stand in one set.
        </p>
        <HowList
          logId={logId}
          label="Sets of options"
          rows={combinations.flatMap((set, k): HowRow[] => {
            const name = set.order.map((id) => OPTION_WORDS[id].title).join(', ')
            return [
              {
                name: `${name}: saved`,
                figure: `combinations.${k}.savedKWhPerYear`,
                unit: 'kWh/yr',
                estimate: set.savedKWhPerYear,
              },
              {
                name: `${name}: net present value`,
                figure: `combinations.${k}.netPresentValue`,
                unit: site.currency,
                estimate: set.netPresentValue,
              },
            ]
          })}
        />
      </details>
    </>
  )
}
