import type { ShownMachine } from '@/app/_server/views/month-columns-layout'
import type { MonthPage } from '@/app/_server/views/month-page'
import { optionTitle } from '@/app/_words/en/option-title'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { useFirstRows } from '../first-rows'
import { NumHead } from '../num-head'
import { MachineHead, StackedTable } from '../stacked-table'

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
      <StackedTable
        label="What to do first"
        caption={`The best option of each machine, replayed on its latest log; its figures open on the machine’s page, where cautions and what to confirm stand, too.${placeholders ? ' * rests on a placeholder investment, not on a quote.' : ''}`}
        head={
          <>
            <th scope="col">Machine</th>
            <th scope="col">Best option</th>
            <NumHead name="Saves" unit="kWh/yr, ± 95 %" />
            <NumHead name="Saves" unit={`${site.currency}/yr, ± 95 %`} />
            <NumHead name="Payback" unit="years" />
          </>
        }
      >
        {shown.map(({ machineId, name, best }) => (
          <tr key={machineId}>
            <MachineHead id={machineId} name={name} part="#options" />
            <td className="whole">
              {optionTitle(best.id)}
              {best.investmentIsPlaceholder ? '*' : ''}
            </td>
            <EstimateCell estimate={best.savedKWhPerYear} label="Saves, kWh/yr" />
            <EstimateCell estimate={best.savedCostPerYear} label={`Saves, ${site.currency}/yr`} />
            <EstimateCell estimate={best.paybackYears} label="Payback, years" />
          </tr>
        ))}
      </StackedTable>
      {more}
      <BasisLegend />
    </>
  )
}
