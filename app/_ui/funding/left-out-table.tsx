import type { FundingView } from '@/app/_server/views/funding-view'
import type { Aim, LeftOutReason } from '@/lib/portfolio/fund'
import { rough } from '../format'
import { namesInShort } from '../long-lists'
import { NumHead } from '../num-head'
import { MachineHead, StackedTable } from '../stacked-table'
import { choiceName } from './choice-name'
import { firstOf } from './first-of'

const WHY: Readonly<Record<LeftOutReason, (aim: Aim) => string>> = {
  'no-choice': () => 'no option that saves has figures in its latest log',
  'not-worth-it': (aim) => (aim === 'worth' ? 'nothing pays back over its life' : 'nothing saves energy'),
  'beyond-budget': () => 'the cheapest that pays costs more than the budget',
  'buys-less': () => 'the same money buys more on other machines',
}

/** Machines that get nothing, with the reason and what they would get first. */
export function LeftOutTable({ view }: { view: FundingView }) {
  const { funding, names, aim, site, unlogged, query } = view
  const { shown, more } = firstOf(funding.leftOut, query, 'left-out', 'machines')
  return (
    <>
      {funding.leftOut.length ? (
        <>
          <StackedTable
            label="Left out, and why"
            head={
              <>
                <th scope="col">Machine</th>
                <th scope="col">Why</th>
                <th scope="col">It would get first</th>
                <NumHead name="Investment" unit={site.currency} />
                <NumHead name="Net present value" unit={site.currency} />
                <NumHead name="Saved" unit="kWh/yr" />
              </>
            }
          >
            {shown.map(({ machineId, reason, choice }) => (
              <tr key={machineId}>
                <MachineHead id={machineId} name={names.get(machineId)} part="#options" />
                <td data-label="Why">{WHY[reason](aim)}</td>
                <td data-label="It would get first">
                  {choice ? `${choiceName(choice)}${choice.isPlaceholder ? '*' : ''}` : '–'}
                </td>
                <td className="num" data-label={`Investment, ${site.currency}`}>
                  {choice ? rough(choice.investment.value) : '–'}
                </td>
                <td className="num" data-label={`Net present value, ${site.currency}`}>
                  {choice ? rough(choice.netPresentValue.value) : '–'}
                </td>
                <td className="num" data-label="Saved, kWh/yr">
                  {choice ? rough(choice.savedKWhPerYear.value) : '–'}
                </td>
              </tr>
            ))}
          </StackedTable>
          {more}
        </>
      ) : (
        <p>Every machine that was looked at gets something.</p>
      )}
      {unlogged.length ? (
        <p className="soft">
          Without a log, so nothing could be replayed: {namesInShort(unlogged.map((id) => names.get(id)))}.
        </p>
      ) : null}
    </>
  )
}
