import type { MonthPage } from '@/app/_server/views/month-page'
import { WASTE_KINDS } from '@/lib/months/waste'
import { useFirstRows } from '../first-rows'
import { monthName, number, percent } from '../format'
import { Legend } from '../legend'
import { NumHead } from '../num-head'
import { Opens } from '../opens'
import { MachineHead, StackedTable } from '../stacked-table'
import { DESTINATIONS } from '../streams'
import { KindsExplained } from './cell-explained'
import type { Picked } from './month-sum'

/** Waste of each machine as a bar of its kinds, largest first, all on one scale. */
export function WasteBars({
  picked,
  month,
  site,
}: {
  picked: readonly Picked[]
  month: string
  site: MonthPage['site']
}) {
  const { currency } = site
  const bars = picked
    .map(({ machine, kinds }) => {
      const parts = kinds.map((kind) => ({ kind, amount: machine.review.month.measured.waste[kind] }))
      return {
        machine,
        parts,
        kinds,
        kWh: parts.reduce((sum, part) => sum + (part.amount?.kWh ?? 0), 0),
        cost: parts.reduce((sum, part) => sum + (part.amount?.cost ?? 0), 0),
      }
    })
    .sort((a, b) => b.cost - a.cost)
  const most = bars.reduce((largest, { kWh }) => Math.max(largest, kWh), 1e-9)
  const { shown, more } = useFirstRows(bars, 'machines')
  return (
    <>
      <Legend label="Kinds of waste" entries={WASTE_KINDS.map((kind) => DESTINATIONS[kind])} />
      <StackedTable
        label="Measured waste by machine, largest first"
        head={
          <>
            <th scope="col">Machine</th>
            <th scope="col">Waste by kind</th>
            <NumHead name="Waste" unit="kWh" />
            <NumHead name="Of input" unit="%" />
            <NumHead name="Cost" unit={currency} />
          </>
        }
      >
        {shown.map(({ machine, kinds, parts, kWh, cost }) => {
          const opens = (part: 'kWh' | 'share' | 'cost', what: string, figure: string) => (
            <Opens
              title={`${machine.name}, waste, ${monthName(month)}: ${what}`}
              content={() => (
                <KindsExplained machine={machine} kinds={kinds} part={part} month={month} site={site} />
              )}
            >
              {figure}
            </Opens>
          )
          return (
            <tr key={machine.machineId}>
              <MachineHead id={machine.machineId} name={machine.name} />
              <td className="whole half">
                <span
                  className="meter"
                  role="img"
                  style={{ width: `${(kWh / most) * 100}%`, minWidth: '2px', background: 'none' }}
                  aria-label={parts
                    .map(({ kind, amount }) =>
                      amount
                        ? `${DESTINATIONS[kind].label} ${number(amount.kWh)} kWh`
                        : `${DESTINATIONS[kind].label} not separable`,
                    )
                    .join(', ')}
                >
                  {parts.map(({ kind, amount }) =>
                    amount && amount.kWh > 0 ? (
                      <span
                        key={kind}
                        style={{
                          width: `${(amount.kWh / kWh) * 100}%`,
                          background: `var(${DESTINATIONS[kind].token})`,
                        }}
                      />
                    ) : null,
                  )}
                </span>
              </td>
              <td className="num" data-label="Waste, kWh">
                {opens('kWh', 'measured energy', number(kWh))}
              </td>
              <td className="num" data-label="Of input, %">
                {opens('share', 'share of input', percent(kWh / machine.review.month.measured.electric.kWh))}
              </td>
              <td className="num" data-label={`Cost, ${currency}`}>
                {opens('cost', 'measured cost', number(cost))}
              </td>
            </tr>
          )
        })}
      </StackedTable>
      {more}
    </>
  )
}
