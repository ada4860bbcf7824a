import Link from 'next/link'
import type { ShownMachine } from '@/app/_server/views/month-columns-layout'
import type { MonthPage } from '@/app/_server/views/month-page'
import { optionTitle } from '@/app/_words/en/option-title'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { useFirstRows } from '../first-rows'
import { NumHead } from '../num-head'
import { Scroll } from '../scroll'

/** Each machine's best option, the largest saving first: what is worth a visit. */
export function FirstToDo({
  machines,
  site,
}: {
  machines: readonly ShownMachine[]
  site: MonthPage['site']
}) {
  const rows = machines
    .flatMap(({ machineId, name, best }) => (best ? [{ machineId, name, best }] : []))
    .sort((a, b) => (b.best.savedKWhPerYear?.value ?? 0) - (a.best.savedKWhPerYear?.value ?? 0))
  const { shown, more } = useFirstRows(rows, 'machines')
  if (!rows.length) return <p className="nodata">No option saves on the machines shown.</p>
  const placeholders = rows.some(({ best }) => best.investmentIsPlaceholder)
  return (
    <>
      <Scroll label="What to do first">
        <table className="stacks">
          <caption>
            The best option of each machine, replayed on its latest log; cautions and what to confirm stand on
            its page.{placeholders ? ' * rests on a placeholder investment, not on a quote.' : ''}
          </caption>
          <thead>
            <tr>
              <th scope="col">Machine</th>
              <th scope="col">Best option</th>
              <NumHead name="Saves" unit="kWh/yr, ± 95 %" />
              <NumHead name="Saves" unit={`${site.currency}/yr, ± 95 %`} />
              <NumHead name="Payback" unit="years" />
            </tr>
          </thead>
          <tbody>
            {shown.map(({ machineId, name, best }) => (
              <tr key={machineId}>
                <th scope="row">
                  <Link href={`/machines/${machineId}`}>{name}</Link>
                </th>
                <td className="whole">
                  {optionTitle(best.id)}
                  {best.investmentIsPlaceholder ? '*' : ''}
                </td>
                <EstimateCell estimate={best.savedKWhPerYear} label="Saves, kWh/yr" />
                <EstimateCell estimate={best.savedCostPerYear} label={`Saves, ${site.currency}/yr`} />
                <EstimateCell estimate={best.paybackYears} label="Payback, years" />
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {more}
      <BasisLegend />
    </>
  )
}
