import type { Result } from '@/lib/contract/result'
import { count, estimate, estimateParts } from '../format'
import { OPTION_WORDS } from '../labels'
import { SafetyNote } from '../safety-note'
import { LadderBar } from './ladder-bar'
import { OptionDetail, type OptionPlace } from './option-detail'
import { type Option, optionGroups } from './option-groups'

/** The ladder of options, best first; each opens to what it takes and what it rests on. */
export function OptionsList({ result, place }: { result: Result; place: OptionPlace }) {
  const { options, site, ranking } = result
  const { ranked, notForIt, notJudged } = optionGroups(options)
  const savings = ranked.flatMap((option) => (option.savedKWhPerYear ? [option.savedKWhPerYear] : []))
  const most = Math.max(1e-9, ...savings.map((saving) => saving.high))
  const least = Math.min(0, ...savings.map((saving) => saving.low))
  const placeholders = ranked.some((option) => option.investmentIsPlaceholder)
  return (
    <>
      {ranked.length ? (
        <>
          <p className="soft">
            {ranking === 'energy'
              ? 'Ranked by energy saved: until every option has a quote, some investments are placeholders and money comes second.'
              : 'Ranked by net present value.'}{' '}
            Each saving is this log replayed with the change, minus the same model without it; the line is the
            95 % interval. Savings do not add up: see options together.{' '}
            {placeholders ? <a href="/site#option-costs">Enter quotes</a> : null}
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
            {ranked.map((option, index) => (
              <li key={option.id} data-option={option.id}>
                <details>
                  <summary>
                    <span className="rank">{index + 1}</span>
                    <span className="title">
                      {OPTION_WORDS[option.id].title} <Standing option={option} />
                    </span>
                    <span className="wide">
                      {option.savedKWhPerYear ? (
                        <LadderBar estimate={option.savedKWhPerYear} most={most} least={least} />
                      ) : null}
                    </span>
                    <Amount label="Saved, kWh/yr" value={option.savedKWhPerYear} />
                    <Amount label={`Saved, ${site.currency}/yr`} value={option.savedCostPerYear} />
                    <Amount
                      label="Payback, years"
                      value={option.paybackYears}
                      mark={option.investmentIsPlaceholder && option.paybackYears !== null}
                    />
                  </summary>
                  <OptionDetail option={option} result={result} place={place} />
                </details>
              </li>
            ))}
          </ol>
        </>
      ) : (
        <p className="nodata">No option could be replayed on this log.</p>
      )}
      {placeholders ? (
        <p className="small soft">* rests on a placeholder investment, not on a quote for this machine.</p>
      ) : null}
      {notJudged.length ? (
        <details className="twin aside">
          <summary>
            Not judged from this log ({count(notJudged.reduce((sum, one) => sum + one.options.length, 0))})
          </summary>
          {notJudged.map(({ reason, options: alike }) => (
            <div key={reason}>
              <p>{reason}</p>
              <Others options={alike} result={result} place={place} />
            </div>
          ))}
        </details>
      ) : null}
      {notForIt.length ? (
        <details className="twin aside">
          <summary>Not for this machine ({count(notForIt.length)})</summary>
          <Others options={notForIt} result={result} place={place} withReasons />
        </details>
      ) : null}
      <SafetyNote />
    </>
  )
}

/** Options without a saving: name and why, each opening to what it is. */
function Others({
  options,
  result,
  place,
  withReasons = false,
}: {
  options: readonly Option[]
  result: Result
  place: OptionPlace
  withReasons?: boolean
}) {
  return (
    <ul className="options">
      {options.map((option) => (
        <li key={option.id} data-option={option.id}>
          <details>
            <summary className="short">
              <span>{OPTION_WORDS[option.id].title}</span>
              <span className="soft">{withReasons ? option.reasons[0]?.message : null}</span>
            </summary>
            <OptionDetail option={option} result={result} place={place} />
          </details>
        </li>
      ))}
    </ul>
  )
}

/** What to know of a ranked option before its figures are read. */
function Standing({ option }: { option: Option }) {
  const saving = option.savedKWhPerYear
  if (!saving) return null
  if (saving.high <= 0) return <span className="tag warn">costs energy</span>
  if (saving.low <= 0) return <span className="tag warn">not certain</span>
  return null
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
