import type { OverlaidMachine } from '@/app/_server/views/overlay-view'
import { PHASE_KINDS } from '@/lib/contract/result'
import { number, percent } from '../format'
import { Key } from '../key'
import { Scroll } from '../scroll'
import { PHASES } from '../streams'

/** Share of logged time in each kind of phase, machine by machine: bars with their table. */
export function OverlayPhases({ machines }: { machines: readonly OverlaidMachine[] }) {
  const hours = machines.map(({ result }) =>
    Object.values(result.ledgerByPhase).reduce((sum, phase) => sum + phase.hours, 0),
  )
  const shareOf = (k: number, kind: (typeof PHASE_KINDS)[number]) =>
    hours[k] > 0 ? (machines[k].result.ledgerByPhase[kind]?.hours ?? 0) / hours[k] : 0
  const kinds = PHASE_KINDS.filter((kind) => machines.some((_, k) => shareOf(k, kind) > 0))
  return (
    <Scroll label="Time by phase">
      <table>
        <caption>Share of logged time</caption>
        <thead>
          <tr>
            <th scope="col">Phase</th>
            {machines.map(({ id, name }, k) => (
              <th key={id} scope="col" className="num">
                {name} <span className="unit">% of {number(hours[k])} h</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">All</th>
            {machines.map(({ id, name }, k) => {
              const text = kinds
                .map((kind) => `${PHASES[kind].label} ${percent(shareOf(k, kind))}`)
                .join(', ')
              return (
                <td key={id}>
                  <span className="meter" role="img" aria-label={`${name}: ${text}`} title={text}>
                    {kinds.map((kind) => (
                      <span
                        key={kind}
                        style={{
                          width: `${shareOf(k, kind) * 100}%`,
                          background: `var(${PHASES[kind].token})`,
                        }}
                      />
                    ))}
                  </span>
                </td>
              )
            })}
          </tr>
          {kinds.map((kind) => (
            <tr key={kind}>
              <th scope="row">
                <Key token={PHASES[kind].token} />
                {PHASES[kind].label}
              </th>
              {machines.map(({ id }, k) => (
                <td key={id} className="num">
                  {percent(shareOf(k, kind))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
