import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { Fragment } from 'react'
import { database } from '@/app/_server/database'
import { type MeasureView, measureView } from '@/app/_server/views/measures-view'
import { dateOnly, estimate } from '@/app/_ui/format'
import { settingText, settingWords } from '@/app/_ui/machine/option-setting'
import { History } from '@/app/_ui/measures/history'
import { OwnerAndNotes } from '@/app/_ui/measures/owner-and-notes'
import { ProofSetupForm } from '@/app/_ui/measures/proof-setup'
import { ProofView } from '@/app/_ui/measures/proof-view'
import { Quotes } from '@/app/_ui/measures/quotes'
import { StepForm } from '@/app/_ui/measures/step-form'
import { TrialsList } from '@/app/_ui/measures/trials-list'
import { PageHead } from '@/app/_ui/page-head'
import { SafetyNote } from '@/app/_ui/safety-note'
import { proofWords } from '@/app/_words/en/proof'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Measure' }

interface Props {
  params: Promise<{ id: string }>
}

/** One measure: what was promised, its steps, its proof. */
export default async function MeasurePage({ params }: Props) {
  const view = await measureView(await database(), (await params).id)
  if (!view) notFound()
  const { measure, site, proof, logs, trials } = view
  const names = new Map(logs.map(({ logId, fileName }) => [logId, fileName]))
  const { machineId } = measure
  return (
    <>
      <PageHead
        title={measure.title}
        about={
          <>
            <Link href={`/machines/${machineId}`}>{measure.machineName}</Link> ·{' '}
            {proofWords.states[measure.state]} since {measure.on}
          </>
        }
      >
        <Link className="button" href="/measures">
          All measures
        </Link>
      </PageHead>
      <Promised view={view} />
      <section className="sheet" aria-labelledby="step">
        <h2 id="step">Next step</h2>
        <StepForm key={measure.events.length} id={measure.id} state={measure.state} next={measure.next} />
        {measure.state === 'verified' || measure.state === 'rejected' ? null : <SafetyNote />}
      </section>
      <section className="sheet" aria-labelledby="proof">
        <h2 id="proof">Proof</h2>
        <ProofView proof={proof} names={names} machineId={machineId} timeZone={site.timeZone} />
        <details className="twin">
          <summary>Choose logs, and what they are compared by</summary>
          <ProofSetupForm
            key={JSON.stringify(measure.setup)}
            id={measure.id}
            setup={measure.setup}
            logs={logs}
            timeZone={site.timeZone}
          />
        </details>
      </section>
      <section className="sheet" aria-labelledby="trials">
        <h2 id="trials">Same-day trials</h2>
        <TrialsList trials={trials} machineId={machineId} />
        <p className="small soft">
          A trial is entered with its log: open the machine’s log and choose “Same-day trial”.
        </p>
      </section>
      <div className="columns">
        <section className="sheet" aria-labelledby="quotes">
          <h2 id="quotes">Quotes</h2>
          <Quotes id={measure.id} quotes={measure.quotes} currency={site.currency} />
        </section>
        <section className="sheet" aria-labelledby="who">
          <h2 id="who">Owner and notes</h2>
          <OwnerAndNotes
            key={`${measure.owner}${measure.notes}`}
            id={measure.id}
            owner={measure.owner}
            notes={measure.notes}
          />
        </section>
      </div>
      <section className="sheet" aria-labelledby="history">
        <h2 id="history">History</h2>
        <History events={measure.events} timeZone={site.timeZone} />
      </section>
    </>
  )
}

/** What was frozen when it was decided. */
function Promised({ view }: { view: MeasureView }) {
  const { measure, site } = view
  const { expected, machineId } = measure
  return (
    <section className="sheet" aria-labelledby="promise">
      <h2 id="promise">Predicted at decision</h2>
      {expected ? (
        <>
          <dl className="pairs">
            <dt>Saving a year</dt>
            <dd>{estimate(expected.savedKWhPerYear, 'kWh')}</dd>
            {expected.savedShare ? (
              <>
                <dt>Share of the electric input</dt>
                <dd>{estimate(expected.savedShare, '%', 100)}</dd>
              </>
            ) : null}
            {Object.entries(expected.settings).map(([name, value]) => (
              <Fragment key={name}>
                <dt>{settingWords(name).name}</dt>
                <dd>{typeof value === 'boolean' ? String(value) : settingText(name, value)}</dd>
              </Fragment>
            ))}
          </dl>
          <p className="small soft">
            Frozen on {dateOnly(expected.frozenAt, site.timeZone)}
            {expected.logId ? (
              <>
                , replayed on{' '}
                <Link href={`/machines/${machineId}?log=${expected.logId}#options`}>{expected.fileName}</Link>{' '}
                with engine {expected.engineVersion}
              </>
            ) : (
              ', as a person expected it'
            )}
            . Later logs and engines do not move it.
          </p>
        </>
      ) : (
        <p className="nodata">Nothing was predicted.</p>
      )}
    </section>
  )
}
