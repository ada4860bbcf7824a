import { DutyPlane } from '@/app/_charts/duty-plane'
import { EnergyFlow } from '@/app/_charts/energy-flow'
import type { CorrectionAnswer } from '@/app/_server/shapes'
import type { StoredChannel } from '@/db/schema/logs'
import type { Machine } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { BasisLegend } from '../estimate-cell'
import { STACK, STACK_JOINED } from '../streams'
import { Combinations } from './combinations'
import { FindingsList } from './findings-list'
import { Headline } from './headline'
import { LedgerExplained } from './ledger-explained'
import { LedgerByPhase, LedgerTable, MeterShares } from './ledger-table'
import { LevelsList } from './levels-list'
import { logClock } from './log-clock'
import { LogFacts } from './log-facts'
import { NextStep } from './next-step'
import { NoOptionsYet } from './no-options-yet'
import { NoSeriesYet } from './no-series-yet'
import { OptionsList } from './options-list'
import { PhaseReview } from './phase-review'
import { PumpHealth } from './pump-health'
import { ReliefFindings } from './relief-findings'
import { tracePanels } from './trace-panels'
import { Trust } from './trust'

/** Everything a log says about its machine, from the headline to the last problem. */
export function ResultSheets({
  machineId,
  logId,
  result,
  channels,
  corrections,
  correctionsUpToDate,
  revision,
  confirmed,
  isReplaying,
}: {
  machineId: string
  logId: string
  result: Result
  channels: readonly StoredChannel[]
  corrections: readonly CorrectionAnswer[]
  correctionsUpToDate: boolean
  /** Changes whenever the result is made again. */
  revision: string
  confirmed: NonNullable<Machine['confirmed']> | null
  /** Whether its options are just being replayed. */
  isReplaying: boolean
}) {
  const { log, phases, ledgerKWh, reliefFit, site } = result
  const { clockMs, clockName } = logClock(log.startedAt, site.timeZone)
  const pressure = channels.find(
    (channel) => channel.quantity === 'pressure' && channel.location === 'pump-outlet',
  )
  // Every option is listed, whatever it saves: none at all means that they are not replayed yet, nor is the account over
  // time stored, which comes with them.
  const hasOptions = result.options.length > 0
  return (
    <>
      {hasOptions ? <NextStep result={result} /> : null}
      <Headline result={result} logId={logId} />
      <section className="sheet" id="options" aria-labelledby="options-title">
        <h2 id="options-title">What would save most</h2>
        {hasOptions ? (
          <OptionsList result={result} place={{ machineId, logId, revision, confirmed }} />
        ) : (
          <NoOptionsYet isAtWork={isReplaying} />
        )}
      </section>
      {hasOptions ? (
        <section className="sheet" aria-labelledby="combined">
          <h2 id="combined">Options together</h2>
          <Combinations result={result} logId={logId} />
        </section>
      ) : null}
      <section className="sheet" aria-labelledby="flow">
        <h2 id="flow">From the meter to the {ledgerKWh.work ? 'load' : 'system'}</h2>
        <EnergyFlow ledger={ledgerKWh} />
      </section>
      <PhaseReview
        key={logId}
        logId={logId}
        panels={tracePanels(channels)}
        streams={!hasOptions ? [] : ledgerKWh.work ? STACK : STACK_JOINED}
        withoutAccount={hasOptions ? null : <NoSeriesYet isAtWork={isReplaying} />}
        phases={phases}
        corrections={corrections}
        upToDate={correctionsUpToDate}
        revision={revision}
        durationS={log.durationS}
        sampleIntervalS={log.sampleIntervalS}
        clockMs={clockMs}
        clockName={clockName}
        timeZone={site.timeZone}
      />
      <section className="sheet" aria-labelledby="levels">
        <h2 id="levels">Levels that tell phases apart</h2>
        <LevelsList result={result} machineId={machineId} logId={logId} />
      </section>
      <section className="sheet" aria-labelledby="account">
        <h2 id="account">Account</h2>
        <div className="columns">
          <LedgerTable ledger={ledgerKWh} />
          <MeterShares result={result} />
        </div>
        <div style={{ marginTop: '1rem' }}>
          <LedgerByPhase result={result} />
        </div>
        <BasisLegend />
        <LedgerExplained result={result} logId={logId} />
      </section>
      <section className="sheet" id="found" aria-labelledby="found-title">
        <h2 id="found-title">What the log says is wrong</h2>
        <FindingsList result={result} logId={logId} />
      </section>
      <section className="sheet" aria-labelledby="pump">
        <h2 id="pump">Pump</h2>
        <PumpHealth result={result} />
      </section>
      <section className="sheet" aria-labelledby="relief">
        <h2 id="relief">Relief valve</h2>
        <div className="columns">
          <div>
            <ReliefFindings result={result} logId={logId} />
          </div>
          <div>
            {!pressure ? (
              <p className="nodata">No pump pressure was logged: the duty of the relief cannot be drawn.</p>
            ) : !hasOptions ? (
              <NoSeriesYet isAtWork={isReplaying} />
            ) : (
              <DutyPlane
                key={logId}
                logId={logId}
                pressure={pressure.name}
                phases={phases}
                durationS={log.durationS}
                relief={
                  reliefFit && {
                    // The plane is drawn over the pump's pressure, which includes what stands behind the valve.
                    crackingBar: reliefFit.crackingBar.value + (reliefFit.backPressureBar ?? 0),
                    settingBar: reliefFit.settingBar.value + (reliefFit.backPressureBar ?? 0),
                    overrideBarPerLpm: reliefFit.overrideBarPerLpm.value,
                  }
                }
              />
            )}
          </div>
        </div>
      </section>
      <div className="columns">
        <section className="sheet" aria-labelledby="trust">
          <h2 id="trust">How far to trust the model</h2>
          <Trust result={result} logId={logId} />
        </section>
        <section className="sheet" aria-labelledby="log-facts">
          <h2 id="log-facts">This log</h2>
          <LogFacts result={result} />
        </section>
      </div>
    </>
  )
}
