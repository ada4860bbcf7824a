import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { duration, percent } from '../format'

/** Whether the machine model reproduces the logged input, and against what. */
export function Trust({ result, logId }: { result: Result; logId: string }) {
  const { model } = result
  return (
    <>
      <div className={model.trusted ? 'note good' : 'note warn'}>
        <p>
          {model.trusted
            ? 'The model reproduces the logged input within the limits: options can be relied on within their intervals.'
            : model.againstMeasuredPower
              ? 'The model does not reproduce the logged input within the limits. Check nameplate and sensors before relying on the options.'
              : 'Without measured power two models are compared here, not a model with a measurement. Log real power to have it trusted.'}
        </p>
      </div>
      <HowList
        logId={logId}
        label="Model against log"
        rows={[
          { name: 'Mean bias (NMBE)', figure: 'model.nmbe', unit: '', text: percent(model.nmbe) },
          { name: 'Scatter, CV(RMSE)', figure: 'model.cvRmse', unit: '', text: percent(model.cvRmse) },
        ]}
      />
      <dl className="pairs">
        <dt>Averaged over</dt>
        <dd>{duration(model.averagingIntervalS)}</dd>
        <dt>Compared with</dt>
        <dd>{model.againstMeasuredPower ? 'measured electric power' : 'power estimated from current'}</dd>
      </dl>
      <p className="small soft">
        Limits of ASHRAE Guideline 14 by averaging interval: ± 5 % and 15 % monthly, ± 10 % and 30 % hourly.
      </p>
    </>
  )
}
