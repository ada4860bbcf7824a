import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { estimate, percent } from '../format'

/** What the relief's fit says: cracking, setting, override, and findings with their cost. */
export function ReliefFindings({ result, logId }: { result: Result; logId: string }) {
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
      <HowList
        logId={logId}
        label="The relief’s line"
        rows={[
          {
            name: 'Starts to open (cracking)',
            figure: 'reliefFit.crackingBar',
            unit: 'bar',
            estimate: fit.crackingBar,
          },
          {
            name: 'At rated flow (setting)',
            figure: 'reliefFit.settingBar',
            unit: 'bar',
            estimate: fit.settingBar,
          },
          {
            name: 'Cracking ÷ setting',
            figure: 'reliefFit.crackingRatio',
            unit: '%',
            text: percent(ratio).replace(' %', ''),
          },
          {
            name: 'Override',
            figure: 'reliefFit.overrideBarPerLpm',
            unit: 'bar/(L/min)',
            estimate: fit.overrideBarPerLpm,
          },
        ]}
      />
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
      {fit.findings.length ? (
        <details className="twin">
          <summary>How these costs are reached</summary>
          <HowList
            logId={logId}
            label="Costs of what was found"
            rows={fit.findings.map((finding) => ({
              name: finding.message,
              figure: `reliefFit.findings.${finding.code}.costPerYear`,
              unit: `${result.site.currency}/yr`,
              estimate: finding.costPerYear,
            }))}
          />
        </details>
      ) : null}
    </>
  )
}
