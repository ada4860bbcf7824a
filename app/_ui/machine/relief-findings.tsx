import type { Result } from '@/lib/contract/result'
import { Explain } from '../figure'
import { estimate, percent } from '../format'
import { sensorsOf } from './explanations'

/** What the relief's fit says: cracking, setting, override, and findings with their cost. */
export function ReliefFindings({ result }: { result: Result }) {
  const fit = result.reliefFit
  if (!fit) {
    return (
      <p className="nodata">
        No fit: the log does not show the relief passing over enough different flows, or no flow sensor sees
        it. A flow sensor on the relief return would.
      </p>
    )
  }
  const ratio = fit.crackingBar.value / fit.settingBar.value
  return (
    <>
      <dl className="pairs">
        <dt>Starts to open (cracking)</dt>
        <dd>{estimate(fit.crackingBar, 'bar')}</dd>
        <dt>At rated flow (setting)</dt>
        <dd>{estimate(fit.settingBar, 'bar')}</dd>
        <dt>Cracking ÷ setting</dt>
        <dd>{percent(ratio)}</dd>
        <dt>Override</dt>
        <dd>{estimate(fit.overrideBarPerLpm, 'bar per L/min')}</dd>
      </dl>
      {fit.findings.length ? (
        <ul style={{ marginTop: '.6rem' }}>
          {fit.findings.map((finding) => (
            <li key={finding.code}>
              {finding.message} <strong>{estimate(finding.costPerYear, `${result.site.currency}/yr`)}</strong>
            </li>
          ))}
        </ul>
      ) : (
        <p style={{ marginTop: '.6rem' }}>Nothing found: the valve behaves as its kind should.</p>
      )}
      <details className="twin">
        <summary>How these are reached</summary>
        <Explain
          explanation={{
            formula:
              'Pump pressure = cracking pressure + override × flow over the relief, fitted robustly to means of stretches in which the relief passes; no flow below cracking. Setting = the fitted pressure at rated flow.',
            inputs: [
              `${fit.findings.length} findings: a finding needs its whole 95 % interval outside what the valve’s kind should hold`,
            ],
            sensors: sensorsOf(result, ['pressure', 'flow', 'current', 'power']),
            note: 'Cost of a finding = its energy per logged hour × planned hours × energy price.',
          }}
        />
      </details>
    </>
  )
}
