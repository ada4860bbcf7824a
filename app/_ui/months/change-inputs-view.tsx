'use client'
import { Fragment, useEffect, useState } from 'react'
import type { ChangeAnswer } from '@/app/_server/change-answer'
import { phaseKinds } from '@/app/_words/en/names'
import type { Reference } from '@/lib/months/references'
import type { WasteKind } from '@/lib/months/waste'
import { problemOf } from '../api'
import { monthName, number, percent } from '../format'
import { NumHead } from '../num-head'
import { Scroll } from '../scroll'
import { changeText } from './change-text'
import { withReach } from './reach-text'
import { signed } from './signed'

type State = { readonly answer: ChangeAnswer } | { readonly why: string } | null

/** What a change was split from: both sides kind of phase by kind of phase, and the four effects. */
export function ChangeInputsView({
  month,
  machineId,
  figure,
  against,
  currency,
  shownCost,
}: {
  month: string
  machineId: string
  figure: WasteKind
  against: Reference
  currency: string
  /** The change as the page shows it: of a closed month it is that of its closing. */
  shownCost: number | null
}) {
  const [state, setState] = useState<State>(null)
  useEffect(() => {
    const query = new URLSearchParams({ machine: machineId, figure, against })
    let isGone = false
    const read = async (): Promise<State> => {
      const response = await fetch(`/api/months/${month}/change?${query}`)
      return response.ok ? { answer: await response.json() } : { why: await problemOf(response) }
    }
    read()
      .catch((): State => ({ why: 'The server cannot be reached.' }))
      .then((next) => {
        if (!isGone) setState(next)
      })
    return () => {
      isGone = true
    }
  }, [month, machineId, figure, against])
  if (!state) return <p className="soft">Reading how this was reached …</p>
  if ('why' in state) return <p className="nodata">{state.why}</p>
  const { inputs, months } = state.answer
  if (!inputs) return <p className="nodata">No data: one of the months says nothing of it.</p>
  const { before, after, kinds, change, reach } = inputs
  const name = months.map(monthName).join(', ')
  // The page's own figures are rounded to seven digits.
  const isOther =
    shownCost !== null && Math.abs(change.cost.change - shownCost) > 0.01 + 1e-5 * Math.abs(shownCost)
  return (
    <>
      <p>
        Whole months, measured and scaled: hours run × Σ (share of a running hour × waste in an hour of the
        kind of phase) × price. Each cause is taken at the mean over every order in which the four may have
        come, so they add up to the change.
      </p>
      <Scroll label="Both months, kind of phase by kind of phase">
        <table>
          <caption className="sr">Both months, kind of phase by kind of phase</caption>
          <thead>
            <tr>
              <th scope="col">Kind of phase</th>
              <th scope="col" className="num">
                Of a running hour, {name} <span className="unit">%</span>
              </th>
              <NumHead name={monthName(month)} unit="%" />
              <th scope="col" className="num">
                Waste per hour of it, {name} <span className="unit">kWh/h</span>
              </th>
              <NumHead name={monthName(month)} unit="kWh/h" />
            </tr>
          </thead>
          <tbody>
            {kinds
              .filter((one) => one.before.kWhPerHour || one.after.kWhPerHour)
              .map((one) => (
                <tr key={one.kind}>
                  <th scope="row">{phaseKinds[one.kind]}</th>
                  <td className="num">{percent(one.before.share)}</td>
                  <td className="num">{percent(one.after.share)}</td>
                  <td className="num">{number(one.before.kWhPerHour)}</td>
                  <td className="num">{number(one.after.kWhPerHour)}</td>
                </tr>
              ))}
          </tbody>
        </table>
      </Scroll>
      <dl>
        {[[name, before] as const, [monthName(month), after] as const].map(([when, side]) => {
          const energy = withReach(side.kWh, side.reach)
          return (
            <Fragment key={when}>
              <dt>{when}</dt>
              <dd>
                {number(side.runningHours)} hours run, {energy.value} {side.reach ? energy.interval : ''} kWh
                of waste at {number(side.pricePerKWh)} {currency}/kWh
              </dd>
            </Fragment>
          )
        })}
        <dt>Effects</dt>
        <dd>
          hours {signed(change.cost.effects.hours)}, duty {signed(change.cost.effects.duty)}, waste per hour{' '}
          {signed(change.cost.effects.rate)}, price {signed(change.cost.effects.price)}; together{' '}
          {signed(change.cost.change)} {currency}, {signed(change.kWh.change)} kWh
        </dd>
        <dt>95 % interval</dt>
        <dd>
          {reach
            ? `${changeText(change.cost.change, reach.cost)} ${currency}, ${changeText(change.kWh.change, reach.kWh)} kWh. `
            : 'Not known yet. '}
          Both months’ intervals, added in squares. Nothing is taken to cancel: sensors, plates and planned
          hours are mostly the same in both months, but no log knows that they are. Where they are, the change
          is surer than this.
          {months.length > 1 ? ' The mean of several months is as unsure as they are.' : ''}
        </dd>
      </dl>
      {isOther ? (
        <p className="note">
          Logs and settings of today; the figure shown, {signed(shownCost)} {currency}, is that of the month’s
          closing.
        </p>
      ) : null}
    </>
  )
}
