import { CusumCurve } from '@/app/_charts/cusum-curve'
import { ProofBars } from '@/app/_charts/proof-bars'
import type { ProofAnswer } from '@/app/_server/measure-shapes'
import { BasisLegend } from '../estimate-cell'
import { estimate, percent, rough } from '../format'
import { ProofExplained } from './proof-explained'
import { ProofRows } from './proof-rows'
import { WarningList } from './warning-list'

/** What logs after the change prove: verdict, figures, log by log, running sum, and how each was reached. */
export function ProofView({
  proof,
  names,
  machineId,
  timeZone,
}: {
  proof: ProofAnswer
  names: ReadonlyMap<string, string>
  machineId: string
  timeZone: string
}) {
  const { savedKWh, expectedKWh, predictedKWh, savedShare, comparison, logs, runningHours } = proof
  return (
    <>
      <p className="lead">
        <strong>{proof.message}</strong>
      </p>
      {proof.loggedMessage ? <p>{proof.loggedMessage}</p> : null}
      <WarningList warnings={proof.warnings} />
      {savedKWh && expectedKWh ? (
        <dl className="pairs">
          <dt>Baseline expects</dt>
          <dd>
            {rough(expectedKWh.value)} kWh in {rough(runningHours)} running hours
          </dd>
          <dt>Used</dt>
          <dd>{rough(comparison.electricKWh)} kWh</dd>
          <dt>Saved</dt>
          <dd>
            {estimate(savedKWh, 'kWh')}
            {savedShare && savedShare.value > 0 ? `, ${percent(savedShare.value)} of what is expected` : null}
          </dd>
          <dt>Predicted for the same hours</dt>
          <dd>{predictedKWh ? estimate(predictedKWh, 'kWh') : 'nothing was predicted'}</dd>
        </dl>
      ) : null}
      {logs.length > 0 ? (
        <>
          <h3>Used and expected, log by log</h3>
          <ProofBars rows={logs} />
          <h3>Running sum of used − expected</h3>
          <p className="soft">
            Up = worse, down = saved. It stays level while the machine is as it was; where it bends, something
            changed.
          </p>
          <CusumCurve rows={logs} />
          <ProofRows rows={logs} names={names} machineId={machineId} timeZone={timeZone} />
          <ProofExplained proof={proof} />
          <BasisLegend />
        </>
      ) : null}
    </>
  )
}
