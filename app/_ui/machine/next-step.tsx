import type { Result } from '@/lib/contract/result'
import { estimate, years } from '../format'
import { OPTION_WORDS } from '../labels'
import { optionGroups } from './option-groups'
import { sensorWords } from './sensor-words'
import { toConfirm } from './to-confirm'

/** The one thing to do next with this machine: the best option, what it saves, what to confirm first. */
export function NextStep({ result }: { result: Result }) {
  const { options, site, notSeparable } = result
  const { ranked, notJudged } = optionGroups(options)
  const best = ranked[0]
  const saving = best?.savedKWhPerYear
  if (!best || !saving || saving.value <= 0) {
    const sensor = notJudged.length ? notSeparable[0]?.sensor : undefined
    return (
      <p className="next">
        <strong>Next:</strong> no option saves on this log.{' '}
        {sensor ? `To judge the others, fit ${sensorWords(sensor)}, and log again.` : 'Leave it as it is.'}
      </p>
    )
  }
  const title = <a href="#options">{OPTION_WORDS[best.id].title}</a>
  if (saving.low <= 0) {
    return (
      <p className="next">
        <strong>Next:</strong> nothing saves for certain: the best, {title}, saves{' '}
        {estimate(saving, 'kWh/yr')}. Log longer before spending on it.
      </p>
    )
  }
  const confirm = toConfirm(best.cautions, best.needsConfirmation)
  return (
    <p className="next">
      <strong>Next:</strong> {title} saves {estimate(saving, 'kWh/yr')}
      {best.savedCostPerYear ? `, ${estimate(best.savedCostPerYear, `${site.currency}/yr`)}` : ''}
      {best.paybackYears
        ? `, and pays back in ${years(best.paybackYears.value)}${best.investmentIsPlaceholder ? ' at a placeholder price' : ''}`
        : ''}
      {confirm.length ? `; first confirm ${confirm.join(' and ')}` : ''}.
    </p>
  )
}
