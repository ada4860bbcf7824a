import { number, rough } from '@/app/_ui/format'
import { OPTION_WORDS } from '@/app/_ui/labels'
import type { CostCurve } from './cost-curve-layout'
import { StepCurve } from './step-curve'

/** What each further kWh costs, step by step of the best set, against what a kWh costs now. */
export function CostCurvePicture({ curve, currency }: { curve: CostCurve; currency: string }) {
  const { steps, pricePerKWh } = curve
  const summary = steps
    .map(
      ({ option, addedKWh, costPerSavedKWh }) =>
        `${OPTION_WORDS[option].title}: ${rough(addedKWh)} kWh a year at ${number(costPerSavedKWh)} ${currency}/kWh`,
    )
    .join('; ')
  return (
    <StepCurve
      steps={steps.map((step) => ({ ...step, key: step.option }))}
      pricePerKWh={pricePerKWh}
      currency={currency}
      summary={summary}
    />
  )
}
