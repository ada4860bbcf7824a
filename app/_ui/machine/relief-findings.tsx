import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { number, percent } from '../format'

/** What the relief's fit says: cracking, setting and override. */
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
          ...(fit.backPressureBar === undefined
            ? []
            : [
                {
                  name: 'Usual back pressure (tank line)',
                  figure: 'reliefFit.backPressureBar',
                  unit: 'bar',
                  text: number(fit.backPressureBar),
                },
              ]),
        ]}
      />
      {fit.backPressureBar === undefined ? null : (
        <p>
          Cracking and setting are the valve’s own, without the back pressure that stands in the tank line
          behind it. A valve whose pilot drains elsewhere does not feel them: its gauge shows that much more.
        </p>
      )}
      <p style={{ marginTop: '.6rem' }}>
        {fit.findings.length ? (
          <a href="#found">What is wrong with it stands above.</a>
        ) : (
          'Nothing found: the valve behaves as its kind should.'
        )}
      </p>
    </>
  )
}
