import Link from 'next/link'
import type { TrialAnswer } from '@/app/_server/measure-shapes'
import { proofWords } from '@/app/_words/en/proof'
import { PA_PER_BAR } from '@/lib/units'
import { ConfirmDelete } from '../confirm-delete'
import { count, elapsed, number, rough } from '../format'
import { Scroll } from '../scroll'
import { WarningList } from './warning-list'

const bar = (pressurePa: number) => number(pressurePa / PA_PER_BAR)
const LEVELS = { idle: 'Pressure while idle', highest: 'Highest pressure' } as const

/** What each trial shows, and how. */
export function TrialsList({ trials, machineId }: { trials: readonly TrialAnswer[]; machineId: string }) {
  if (trials.length === 0) return <p className="soft">No trial yet.</p>
  return (
    <>
      {trials.map((one) => (
        <article key={one.id} aria-label={`Trial at ${elapsed(one.atS)}`}>
          <h3>
            At {elapsed(one.atS)}
            {one.note ? `: ${one.note}` : ''}
          </h3>
          {one.trial ? (
            <Shown trial={one.trial} />
          ) : (
            <p className="nodata">The log was analysed before what trials need was kept.</p>
          )}
          <div className="small soft">
            {one.author ? `Said by ${one.author}. ` : ''}
            <Link href={`/machines/${machineId}?log=${one.logId}`}>Open the log</Link>{' '}
            <ConfirmDelete
              path={one.url}
              what={`the trial at ${elapsed(one.atS)}`}
              consequence="The log itself stays as it is."
              verb="Take back"
              isPlain
            />
          </div>
        </article>
      ))}
    </>
  )
}

function Shown({ trial }: { trial: NonNullable<TrialAnswer['trial']> }) {
  const { levelChange, adjustments, degreesOfFreedom, t } = trial
  const adjusted = adjustments.map((name) => proofWords.adjustments[name]).join(' and ')
  return (
    <>
      <p>
        <strong>{trial.message}</strong>{' '}
        {levelChange
          ? `${LEVELS[levelChange.level]} went from ${bar(levelChange.beforePa)} to ${bar(levelChange.afterPa)} bar there.`
          : ''}
      </p>
      <WarningList warnings={trial.warnings} />
      <Scroll label="Cycles compared">
        <table style={{ minInlineSize: '42rem' }}>
          <thead>
            <tr>
              <th scope="col">Side</th>
              <th scope="col">From – to</th>
              <th scope="col" className="num">
                Cycles
              </th>
              <th scope="col" className="num">
                Count as
              </th>
              <th scope="col" className="num">
                Mean <span className="unit">kWh</span>
              </th>
              <th scope="col" className="num">
                At the same times <span className="unit">kWh</span>
              </th>
              <th scope="col" className="num">
                Spread <span className="unit">kWh, 1 sd</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {(['before', 'after'] as const).map((side) => (
              <tr key={side}>
                <th scope="row">{side}</th>
                <td className="nowrap">
                  {elapsed(trial[side].fromS)} – {elapsed(trial[side].toS)}
                </td>
                <td className="num">{count(trial[side].cycles)}</td>
                <td className="num">{number(trial[side].effectiveCycles)}</td>
                <td className="num">{rough(trial[side].kWhPerCycle)}</td>
                <td className="num">{rough(trial[side].adjustedKWh)}</td>
                <td className="num">{rough(trial[side].spreadKWh)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {degreesOfFreedom === null ? null : (
        <p className="small soft">
          Welch’s t = {t === null ? 'beyond measure' : number(t)}, {rough(degreesOfFreedom)} effective degrees
          of freedom; of the interval ± {rough(trial.scatterKWh, 2)} kWh is scatter between cycles and ±{' '}
          {rough(trial.sensorsKWh, 2)} kWh sensors and models, whose offsets are the same on both sides.{' '}
          {adjusted ? `Both sides are taken at the same ${adjusted}.` : 'The means are compared as they are.'}
        </p>
      )}
    </>
  )
}
