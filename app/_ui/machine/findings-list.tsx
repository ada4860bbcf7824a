import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { duration, elapsed, estimate } from '../format'
import { SafetyNote } from '../safety-note'

type Found = Result['findings'][number]
type Place = NonNullable<Found['evidence']['first']>

const placeOf = ({ startS, endS }: Place) => `${elapsed(Math.floor(startS))} to ${elapsed(Math.ceil(endS))}`

function Finding({ found, currency }: { found: Found; currency: string }) {
  const { first, worst, seconds } = found.evidence
  return (
    <li>
      <p>{found.message}</p>
      <dl className="pairs">
        <dt>Costs</dt>
        <dd>
          <strong>{estimate(found.costPerYear, `${currency}/yr`)}</strong>, at the meter in this log{' '}
          {estimate(found.kWhInLog, 'kWh')}
        </dd>
        {first ? (
          <>
            <dt>Seen</dt>
            <dd>
              for {duration(seconds)}, first {placeOf(first)}
              {worst && worst.startS !== first.startS ? `, most ${placeOf(worst)}` : ''}{' '}
              <span className="soft small">from the first sample</span>
            </dd>
          </>
        ) : null}
        <dt>Check</dt>
        <dd>
          <ul>
            {found.checks.map((check) => (
              <li key={check.code}>{check.message}</li>
            ))}
          </ul>
        </dd>
      </dl>
    </li>
  )
}

/** What the log says is wrong with valve, pump and seals: evidence, cost and what to look at on the machine. */
export function FindingsList({ result, logId }: { result: Result; logId: string }) {
  const { findings, site } = result
  if (findings.length === 0) {
    return (
      <p>
        Nothing found that these sensors could show. A finding needs its whole 95 % interval outside what a
        sound part should do.
      </p>
    )
  }
  const dearest = [...findings].sort((a, b) => b.costPerYear.value - a.costPerYear.value)
  return (
    <>
      <ul>
        {dearest.map((found) => (
          <Finding key={found.code} found={found} currency={site.currency} />
        ))}
      </ul>
      <details className="twin">
        <summary>How these costs are reached</summary>
        <HowList
          logId={logId}
          label="Costs of what was found"
          rows={dearest.map((found) => ({
            name: found.message,
            figure: `findings.${found.code}.costPerYear`,
            unit: `${site.currency}/yr`,
            estimate: found.costPerYear,
          }))}
        />
      </details>
      <p className="small soft">
        Costs of findings may overlap: what a worn pump and a leaking valve take is not added up. ± and ranges
        are 95 % intervals.
      </p>
      <SafetyNote />
    </>
  )
}
