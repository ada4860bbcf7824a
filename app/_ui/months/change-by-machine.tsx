'use client'
import { useState } from 'react'
import type { Cause } from '@/lib/months/causes'
import type { Reference } from '@/lib/months/references'
import type { WasteKind } from '@/lib/months/waste'
import { useFirstRows } from '../first-rows'
import { NumHead } from '../num-head'
import { Scroll } from '../scroll'
import { DESTINATIONS } from '../streams'
import { ChangeInputsView } from './change-inputs-view'
import { ChangeSum } from './change-sum'
import { LogLinks } from './log-links'
import type { Picked } from './month-sum'
import { signed } from './signed'

/** The part of each machine and kind of waste in a change, largest first; each opens to the factors of both months. */
export function ChangeByMachine({
  picked,
  reference,
  cause,
  month,
  currency,
}: {
  picked: readonly Picked[]
  reference: Reference
  /** Null: the whole change. */
  cause: Cause | null
  month: string
  currency: string
}) {
  const [chosen, setChosen] = useState<{ machineId: string; kind: WasteKind } | null>(null)
  const rows = picked
    .flatMap(({ machine, kinds }) =>
      kinds.flatMap((kind) => {
        const change = machine.review.changes[reference]?.[kind]
        if (!change) return []
        const amount = cause ? change.cost.effects[cause] : change.cost.change
        return [{ machine, kind, amount, kWh: change.kWh.change, whole: change.cost.change }]
      }),
    )
    .sort((a, b) => Math.abs(b.amount) - Math.abs(a.amount))
  const { shown, more } = useFirstRows(rows, 'rows')
  return (
    <div className="explain">
      <p>The sum over the machines and kinds of waste shown that both months know.</p>
      {cause ? (
        <p className="soft">
          One cause has no interval of its own; open the change as a whole for that of all four together.
        </p>
      ) : (
        <ChangeSum picked={picked} reference={reference} month={month} currency={currency} />
      )}
      <Scroll label="By machine and kind of waste">
        <table>
          <caption className="sr">By machine and kind of waste</caption>
          <thead>
            <tr>
              <th scope="col">Machine</th>
              <th scope="col">Kind of waste</th>
              <NumHead name={cause ? 'Of this cause' : 'Change'} unit={currency} />
              <NumHead name="Change in energy" unit="kWh" />
              <th scope="col">Logs</th>
            </tr>
          </thead>
          <tbody>
            {shown.map(({ machine, kind, amount, kWh, whole }) => {
              const isOpen = chosen?.machineId === machine.machineId && chosen.kind === kind
              return [
                <tr key="row">
                  <th scope="row">{machine.name}</th>
                  <td>{DESTINATIONS[kind].label}</td>
                  <td className="num">
                    <button
                      type="button"
                      className="opens"
                      aria-expanded={isOpen}
                      onClick={() => setChosen(isOpen ? null : { machineId: machine.machineId, kind })}
                    >
                      {signed(amount)}
                    </button>
                  </td>
                  <td className="num">{signed(kWh)}</td>
                  <td>
                    <LogLinks machineId={machine.machineId} name={machine.name} />
                  </td>
                </tr>,
                isOpen ? (
                  <tr key="inputs">
                    <td colSpan={5}>
                      <ChangeInputsView
                        month={month}
                        machineId={machine.machineId}
                        figure={kind}
                        against={reference}
                        currency={currency}
                        shownCost={whole}
                      />
                    </td>
                  </tr>
                ) : null,
              ]
            })}
          </tbody>
        </table>
      </Scroll>
      {more}
    </div>
  )
}
