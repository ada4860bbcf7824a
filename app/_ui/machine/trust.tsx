import { QUANTITIES } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { Explain } from '../figure'
import { duration, percent } from '../format'
import { sensorsOf } from './explanations'

/** Whether the machine model reproduces the logged input, and against what. */
export function Trust({ result }: { result: Result }) {
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
      <dl className="pairs">
        <dt>Mean bias (NMBE)</dt>
        <dd>{percent(model.nmbe)}</dd>
        <dt>Scatter, CV(RMSE)</dt>
        <dd>{percent(model.cvRmse)}</dd>
        <dt>Averaged over</dt>
        <dd>{duration(model.averagingIntervalS)}</dd>
        <dt>Compared with</dt>
        <dd>{model.againstMeasuredPower ? 'measured electric power' : 'power estimated from current'}</dd>
      </dl>
      <details className="twin">
        <summary>How these are reached</summary>
        <Explain
          explanation={{
            formula:
              'NMBE = Σ(modelled − logged) ÷ ((n − 1) × mean logged); CV(RMSE) = √(Σ(modelled − logged)² ÷ (n − 1)) ÷ mean logged; mean electric power in n averaging intervals.',
            inputs: [
              'modelled: pump and motor model fed with the logged pressures and flows',
              `logged: ${model.againstMeasuredPower ? 'measured power' : 'power from the motor’s current'}`,
            ],
            sensors: sensorsOf(result, QUANTITIES),
            note: 'Definitions: ASHRAE Guideline 14. Limits by averaging interval: ± 5 % and 15 % monthly, ± 10 % and 30 % hourly.',
          }}
        />
      </details>
    </>
  )
}
