import type { ProofAnswer } from '@/app/_server/measure-shapes'
import { adjustmentUnit } from '@/app/_words/describe-proof'
import { proofWords } from '@/app/_words/en/proof'
import type { BaselineModel } from '@/lib/contract/proof'
import { J_PER_KWH, PA_PER_BAR } from '@/lib/units'
import { count, number, percent, rough } from '../format'
import { Scroll } from '../scroll'

const NAMES: Readonly<Record<string, string>> = {
  constant: proofWords.constant,
  production: 'a piece',
  'running-hours': 'an hour run',
  ...proofWords.adjustments,
}

/** From here on Student's distribution is the normal one. */
const MANY = 1000

/** A coefficient in kWh per what a person reads: seconds, bar, kelvin, pieces, hours. */
function scaleOf(name: string): number {
  return (name === 'load-pressure' ? PA_PER_BAR : 1) / J_PER_KWH
}
const perUnit = (name: string) => (adjustmentUnit(name) ? `kWh/${adjustmentUnit(name)}` : 'kWh')

function Coefficients({ model }: { model: BaselineModel }) {
  return (
    <Scroll label="Coefficients of the baseline">
      <table>
        <caption>The baseline, by ordinary least squares</caption>
        <thead>
          <tr>
            <th scope="col">Term</th>
            <th scope="col" className="num">
              Value
            </th>
            <th scope="col">Unit</th>
            <th scope="col" className="num">
              Standard error
            </th>
            <th scope="col" className="num">
              t
            </th>
          </tr>
        </thead>
        <tbody>
          {model.coefficients.map(({ name, value, standardError, t }) => (
            <tr key={name}>
              <th scope="row">{NAMES[name] ?? name}</th>
              <td className="num">{number(value * scaleOf(name))}</td>
              <td>{perUnit(name)}</td>
              <td className="num">{number(standardError * scaleOf(name))}</td>
              <td className="num">{number(t)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}

function Parts({ parts }: { parts: ProofAnswer['parts'] }) {
  const whole = parts.reduce((sum, { halfWidthKWh }) => sum + halfWidthKWh ** 2, 0)
  const sorted = [...parts].sort((a, b) => b.halfWidthKWh - a.halfWidthKWh)
  return (
    <Scroll label="Parts of the interval">
      <table>
        <caption>Parts of the 95 % interval: their squares add up to its square.</caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col" className="num">
              ± <span className="unit">kWh</span>
            </th>
            <th scope="col" className="num">
              Share of variance
            </th>
          </tr>
        </thead>
        <tbody>
          {sorted.map(({ source, halfWidthKWh }) => (
            <tr key={source}>
              <th scope="row">
                {proofWords.parts[source].name}
                <span className="how">{proofWords.parts[source].why}</span>
              </th>
              <td className="num">{rough(halfWidthKWh, 2)}</td>
              <td className="num">{percent(whole > 0 ? halfWidthKWh ** 2 / whole : 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}

/** How the figures of a proof were reached, for whoever has to accept it. */
export function ProofExplained({ proof }: { proof: ProofAnswer }) {
  const { model, setup, baseline, comparison, coverageFactor, degreesOfFreedom, adjustments } = proof
  if (!model) return null
  const isCycles = setup.driver === 'cycles'
  const adjusted = adjustments.map((name) => proofWords.adjustments[name]).join(', ')
  return (
    <details className="twin">
      <summary>How each figure is reached</summary>
      <div className="explain">
        <dl>
          <dt>Baseline</dt>
          <dd>
            {proofWords.drivers[setup.driver].toLowerCase()}, fitted to {count(baseline.units)}{' '}
            {isCycles ? 'whole cycles' : 'logs'} of {count(baseline.logs.length)} logs before the change
            {adjusted ? `, adjusted for ${adjusted}` : ', not adjusted for anything else'}
          </dd>
          <dt>Expected</dt>
          <dd>
            the baseline under the conditions of each of the {count(comparison.units)}{' '}
            {isCycles ? 'cycles' : 'logs'} after the change, summed
          </dd>
          <dt>Saved</dt>
          <dd>expected − used, both over {isCycles ? 'whole cycles only' : 'the hours the motor ran'}</dd>
          <dt>A year</dt>
          <dd>
            saved per running hour ×{' '}
            {proof.plannedHours === undefined
              ? 'the site’s planned hours'
              : `${number(proof.plannedHours)} planned hours`}
            : by the machine’s shift calendar the twelve months from its installation on, without one the
            site’s of a year; the interval then holds how much the saving differs from cycle to cycle, and the
            doubt of the planned hours
          </dd>
          <dt>Predicted</dt>
          <dd>
            the share frozen at decision × expected; over a year what was frozen then, for the same hours.
            Verdict “less than predicted” only where the whole interval of saved − predicted lies below nil
          </dd>
          <dt>Fit</dt>
          <dd>
            {model.r2 === null ? 'a mean alone' : `R² ${number(model.r2)}`}; CV(RMSE) {percent(model.cvRmse)},
            NMBE {percent(model.nmbe)} with n − p in the denominator (ASHRAE Guideline 14)
          </dd>
          <dt>Neighbours</dt>
          <dd>
            correlate by {number(model.lag1, 2)}, so {count(model.units)} count as{' '}
            {rough(model.effectiveUnits)}
          </dd>
          <dt>Interval</dt>
          <dd>
            95 %: {number(coverageFactor)} × the combined standard deviation, Student’s t with{' '}
            {degreesOfFreedom !== null && degreesOfFreedom >= MANY ? 'very many' : rough(degreesOfFreedom)}{' '}
            effective degrees of freedom (JCGM 100:2008, G.4)
          </dd>
          <dt>Sensors</dt>
          <dd>
            {setup.sameSensors
              ? 'the same sensors stayed fitted: an offset is the same in all logs and cancels as far as it acts alike'
              : 'fitted anew for every log: each has an offset of its own a log, which does not cancel between logs'}
          </dd>
        </dl>
        <Coefficients model={model} />
        <Parts parts={proof.parts} />
        <p className="soft">
          After ISO 50006 and ISO 50015 (baseline, normalisation) and the idea of IPMVP’s option B: the
          machine itself is measured with all that drives it.
        </p>
      </div>
    </details>
  )
}
