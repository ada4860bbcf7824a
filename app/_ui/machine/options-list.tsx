import type { Result } from '@/lib/contract/result'
import { estimate, estimateParts } from '../format'
import { OPTION_WORDS } from '../labels'
import { SafetyNote } from '../safety-note'
import { LadderBar } from './ladder-bar'
import { OptionDetail } from './option-detail'

type Option = Result['options'][number]

function standing(option: Option): string | null {
  if (!option.judged) return 'not judged'
  return option.feasible ? null : 'not feasible'
}

/** The ladder of options, best first; each opens to what it takes and what it rests on. */
export function OptionsList({ result }: { result: Result }) {
  const { options, site, ranking } = result
  const savings = options.flatMap((option) => (option.savedKWhPerYear ? [option.savedKWhPerYear] : []))
  const most = Math.max(1e-9, ...savings.map((saving) => saving.high))
  const least = Math.min(0, ...savings.map((saving) => saving.low))
  const placeholders = options.some((option) => option.investmentIsPlaceholder)
  let rank = 0
  return (
    <>
      <SafetyNote />
      <p className="soft">
        {ranking === 'energy'
          ? 'Ranked by energy saved: until every option has a quote, some investments are placeholders and money comes second.'
          : 'Ranked by net present value.'}{' '}
        Each saving is this log replayed with the change, minus the same model without it; the line is the 95
        % interval. {placeholders ? <a href="/site#option-costs">Enter quotes</a> : null}
      </p>
      <div className="ladder-head small" aria-hidden="true">
        <span />
        <span>Option</span>
        <span>Saving with interval</span>
        <span className="num">
          Saved <span className="unit">kWh/yr</span>
        </span>
        <span className="num">
          Saved <span className="unit">{site.currency}/yr</span>
        </span>
        <span className="num">
          Payback <span className="unit">years</span>
        </span>
      </div>
      <ol className="options" aria-label="Options, best first">
        {options.map((option) => {
          const state = standing(option)
          if (!state) rank += 1
          return (
            <li key={option.id} data-option={option.id}>
              <details>
                <summary>
                  <span className="rank">{state ? '–' : rank}</span>
                  <span className="title">
                    {OPTION_WORDS[option.id].title} {state ? <span className="tag warn">{state}</span> : null}
                  </span>
                  {option.savedKWhPerYear ? (
                    <span className="wide">
                      <LadderBar estimate={option.savedKWhPerYear} most={most} least={least} />
                    </span>
                  ) : (
                    <span className="wide soft small">
                      {option.reasons[0]?.message ?? 'no saving computed'}
                    </span>
                  )}
                  <Amount label="Saved, kWh/yr" value={option.savedKWhPerYear} />
                  <Amount label={`Saved, ${site.currency}/yr`} value={option.savedCostPerYear} />
                  <Amount
                    label="Payback, years"
                    value={option.paybackYears}
                    mark={option.investmentIsPlaceholder && option.paybackYears !== null}
                  />
                </summary>
                <OptionDetail option={option} site={site} />
              </details>
            </li>
          )
        })}
      </ol>
      {placeholders ? (
        <p className="small soft">* rests on a placeholder investment, not on a quote for this machine.</p>
      ) : null}
    </>
  )
}

function Amount({
  label,
  value,
  mark = false,
}: {
  label: string
  value: Option['savedShare']
  mark?: boolean
}) {
  const parts = value ? estimateParts(value) : null
  return (
    <span className={parts ? 'num' : 'num none'}>
      <span className="cell-label">{label}</span>
      {parts ? (
        <span title={estimate(value)}>
          {parts.value}
          {mark ? '*' : ''} <span className="pm">{parts.interval}</span>
        </span>
      ) : (
        <span className="nodata">no data</span>
      )}
    </span>
  )
}
