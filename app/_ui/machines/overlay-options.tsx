import type { OverlaidMachine } from '@/app/_server/views/overlay-view'
import { OPTION_IDS } from '@/lib/contract/result'
import { EstimateCell } from '../estimate-cell'
import { OPTION_WORDS } from '../labels'
import { Scroll } from '../scroll'

/** What each option saves on each of the machines. */
export function OverlayOptions({
  machines,
  currency,
}: {
  machines: readonly OverlaidMachine[]
  currency: string
}) {
  const find = ({ result }: OverlaidMachine, id: (typeof OPTION_IDS)[number]) => {
    const option = result.options.find((one) => one.id === id)
    return option?.feasible && option.judged ? option : null
  }
  const shown = OPTION_IDS.filter((id) => machines.some((machine) => find(machine, id)))
  if (!shown.length) return <p className="nodata">No option could be replayed on these logs.</p>
  const placeholders = machines.some(({ result }) =>
    result.options.some((option) => option.feasible && option.investmentIsPlaceholder),
  )
  return (
    <Scroll label="Options by machine">
      <table className="wide">
        <caption>
          Saved by each option alone, replayed on each log; no sums: see options together on each machine’s
          page.{placeholders ? ' * rests on a placeholder investment, not on a quote.' : ''}
        </caption>
        <thead>
          <tr>
            <th scope="col" rowSpan={2}>
              Option
            </th>
            {machines.map(({ id, name }) => (
              <th key={id} scope="colgroup" colSpan={2} className="num">
                {name}
              </th>
            ))}
          </tr>
          <tr>
            {machines.flatMap(({ id }) => [
              <th key={`${id} saved`} scope="col" className="num">
                Saved <span className="unit">kWh/yr, ± 95 %</span>
              </th>,
              <th key={`${id} worth`} scope="col" className="num">
                Net present value <span className="unit">{currency}</span>
              </th>,
            ])}
          </tr>
        </thead>
        <tbody>
          {shown.map((id) => (
            <tr key={id}>
              <th scope="row">
                {OPTION_WORDS[id].title}
                {machines.some((machine) => find(machine, id)?.investmentIsPlaceholder) ? '*' : ''}
              </th>
              {machines.flatMap((machine) => {
                const option = find(machine, id)
                return [
                  <EstimateCell
                    key={`${machine.id} saved`}
                    estimate={option?.savedKWhPerYear}
                    absent="not for it"
                  />,
                  <EstimateCell key={`${machine.id} worth`} estimate={option?.netPresentValue} absent="–" />,
                ]
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
