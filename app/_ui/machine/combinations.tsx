import { Scroll } from '@/app/_ui/scroll'
import type { Combination } from '@/lib/contract/option-result'
import type { Result } from '@/lib/contract/result'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { HowList, type HowRow } from '../explain/how-list'
import { entered, rough } from '../format'
import { OPTION_WORDS } from '../labels'
import { CombinationCurve } from './combination-curve'

/** A set of a result with its path in it. */
interface PathedSet {
  readonly set: Combination
  readonly path: string
}

/** Sets of options that were replayed together, step by step in the order to do them in. */
export function Combinations({ result, logId }: { result: Result; logId: string }) {
  const { combinations, bestUnderBudget, site } = result
  const sets = combinations.map((set, k): PathedSet => ({ set, path: `combinations.${k}` }))
  return (
    <>
      {sets.length ? (
        <SetTable sets={sets} site={site} caption="Replayed together, never added up from single savings" />
      ) : (
        <p className="nodata">No combination was replayed: fewer than two options fit together here.</p>
      )}
      {site.budget === undefined ? (
        <p className="soft">
          Enter a budget on the <a href="/site">Site page</a> to see the best set that it buys.
        </p>
      ) : bestUnderBudget ? (
        <SetTable
          sets={[{ set: bestUnderBudget, path: 'bestUnderBudget' }]}
          site={site}
          caption={`${result.ranking === 'energy' ? 'Saves most energy' : 'Worth most'} for ${entered(site.budget)} ${site.currency}: likely investments together ${rough(bestUnderBudget.investment.value)} ${site.currency}`}
        />
      ) : (
        <p className="nodata">
          No option that pays can be had for {entered(site.budget)} {site.currency}.
        </p>
      )}
      {sets.length || bestUnderBudget ? <BasisLegend /> : null}
      <CombinationCurve result={result} logId={logId} />
      <details className="twin">
        <summary>How these are reached</summary>
        <p className="soft">
          All options of a set change the supply at once and the log is replayed with it. The order puts first
          what saves most, then what adds most to those already done; each step shows what it adds, and the
          steps add up to the set. Options that exclude each other never stand in one set.
        </p>
        <HowList
          logId={logId}
          label="Sets of options"
          rows={[
            ...sets,
            ...(bestUnderBudget ? [{ set: bestUnderBudget, path: 'bestUnderBudget' }] : []),
          ].flatMap((one) => howRows(one, site))}
        />
      </details>
    </>
  )
}

function SetTable({
  sets,
  site,
  caption,
}: {
  sets: readonly PathedSet[]
  site: Result['site']
  caption: string
}) {
  return (
    <Scroll label={caption}>
      <table className="stacks">
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">In this order</th>
            <th scope="col" className="num">
              Saved <span className="unit">kWh/yr, ± 95 %</span>
            </th>
            <th scope="col" className="num">
              Investment <span className="unit">{site.currency}</span>
            </th>
            <th scope="col" className="num">
              Net present value <span className="unit">{site.currency}</span>
            </th>
          </tr>
        </thead>
        {sets.map(({ set, path }) => (
          <tbody key={path}>
            {set.steps.map((step, k) => (
              <tr key={step.option}>
                <th scope="row">
                  {k + 1}. {OPTION_WORDS[step.option].title}
                </th>
                <Figures row={step} currency={site.currency} />
              </tr>
            ))}
            {set.steps.length > 1 ? (
              <tr className="total">
                <th scope="row">Together</th>
                <Figures row={set} currency={site.currency} />
              </tr>
            ) : null}
          </tbody>
        ))}
      </table>
    </Scroll>
  )
}

function Figures({ row, currency }: { row: Combination | Combination['steps'][number]; currency: string }) {
  return (
    <>
      <EstimateCell estimate={row.savedKWhPerYear} label="Saved, kWh/yr" />
      <EstimateCell estimate={row.investment} label={`Investment, ${currency}`} />
      <EstimateCell estimate={row.netPresentValue} label={`Net present value, ${currency}`} />
    </>
  )
}

/** Every figure of a set and of its steps, each with its path. */
function howRows({ set, path }: PathedSet, { currency }: Result['site']): HowRow[] {
  const of = (row: Combination | Combination['steps'][number], figure: string, name: string): HowRow[] => [
    {
      name: `${name}: saved`,
      figure: `${figure}.savedKWhPerYear`,
      unit: 'kWh/yr',
      estimate: row.savedKWhPerYear,
    },
    { name: `${name}: investment`, figure: `${figure}.investment`, unit: currency, estimate: row.investment },
    {
      name: `${name}: net present value`,
      figure: `${figure}.netPresentValue`,
      unit: currency,
      estimate: row.netPresentValue,
    },
  ]
  const whole = set.order.map((id) => OPTION_WORDS[id].title).join(', ')
  const steps = set.steps.length > 1 ? set.steps : []
  return [
    ...of(set, path, whole),
    ...steps.flatMap((step, k) =>
      of(step, `${path}.steps.${k}`, `step ${k + 1}, ${OPTION_WORDS[step.option].title}`),
    ),
  ]
}
