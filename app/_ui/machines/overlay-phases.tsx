import type { OverlaidMachine } from '@/app/_server/views/overlay-view'
import { PHASE_KINDS } from '@/lib/contract/result'
import { number, percent } from '../format'
import { PHASES } from '../streams'
import { OverlayTable } from './overlay-table'

/** Share of logged time in each kind of phase, machine by machine: bars with their table. */
export function OverlayPhases({ machines }: { machines: readonly OverlaidMachine[] }) {
  const hours = machines.map(({ result }) =>
    Object.values(result.ledgerByPhase).reduce((sum, phase) => sum + phase.hours, 0),
  )
  const shareOf = (k: number, kind: (typeof PHASE_KINDS)[number]) =>
    hours[k] > 0 ? (machines[k].result.ledgerByPhase[kind]?.hours ?? 0) / hours[k] : 0
  const kinds = PHASE_KINDS.filter((kind) => machines.some((_, k) => shareOf(k, kind) > 0))
  return (
    <OverlayTable
      label="Time by phase"
      caption="Share of logged time"
      first="Phase"
      machines={machines}
      unit={(nth) => `% of ${number(hours[nth])} h`}
      bar={({ name }, nth) => {
        const text = kinds.map((kind) => `${PHASES[kind].label} ${percent(shareOf(nth, kind))}`).join(', ')
        return (
          <span className="meter" role="img" aria-label={`${name}: ${text}`} title={text}>
            {kinds.map((kind) => (
              <span
                key={kind}
                style={{ width: `${shareOf(nth, kind) * 100}%`, background: `var(${PHASES[kind].token})` }}
              />
            ))}
          </span>
        )
      }}
      rows={kinds.map((key) => ({ key, ...PHASES[key] }))}
      cell={(_, nth, kind) => <td className="num">{percent(shareOf(nth, kind))}</td>}
    />
  )
}
