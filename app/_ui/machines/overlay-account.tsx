import { ShareBar } from '@/app/_charts/share-bar'
import type { OverlaidMachine } from '@/app/_server/views/overlay-view'
import type { Estimate } from '@/lib/contract/estimate'
import { EstimateCell } from '../estimate-cell'
import { percent } from '../format'
import { DESTINATIONS, METER_SHARES } from '../streams'
import { OverlayTable } from './overlay-table'

/** Shares of the input at the meter and energy per cycle, machine by machine. */
export function OverlayAccount({ machines }: { machines: readonly OverlaidMachine[] }) {
  const perInput = ({ result }: OverlaidMachine, part: Estimate | null) => {
    const input = result.ledgerKWh.electricIn.value
    return part && input > 0
      ? { ...part, value: part.value / input, low: part.low / input, high: part.high / input }
      : null
  }
  const idleShare = (machine: OverlaidMachine) =>
    perInput(machine, machine.result.meterSharesKWh.idle)?.value ?? null
  const known = machines.filter((one) => idleShare(one) !== null)
  const byIdle = [...known].sort((a, b) => (idleShare(b) ?? 0) - (idleShare(a) ?? 0))
  return (
    <>
      {byIdle.length > 1 ? (
        <p>
          {byIdle[0].name} spends the largest share of its input on idling, {percent(idleShare(byIdle[0]))};{' '}
          {byIdle[byIdle.length - 1].name} the smallest, {percent(idleShare(byIdle[byIdle.length - 1]))}.
        </p>
      ) : null}
      <OverlayTable
        label="Where each kWh goes"
        caption="Share of electric input at the meter: each stream with its share of pump and motor loss. Where metering cannot be separated, work holds it."
        first="Destination"
        machines={machines}
        unit={() => '% of input, ± 95 %'}
        bar={(machine) => (
          <ShareBar
            parts={METER_SHARES.map((key) => ({
              key,
              share: perInput(machine, machine.result.meterSharesKWh[key])?.value ?? 0,
            }))}
          />
        )}
        rows={METER_SHARES.map((key) => ({ key, ...DESTINATIONS[key] }))}
        cell={(machine, _, key) => (
          <EstimateCell
            estimate={perInput(machine, machine.result.meterSharesKWh[key])}
            scale={100}
            absent="not separable"
          />
        )}
      >
        <tr className="total">
          <th scope="row">Energy per cycle, kWh</th>
          {machines.map(({ id, result }) => (
            <EstimateCell key={id} estimate={result.cycles.kWhPerCycle} />
          ))}
        </tr>
        <tr>
          <th scope="row">Model against the log</th>
          {machines.map(({ id, result }) => (
            <td key={id} className="num">
              {result.model.trusted ? 'trusted' : 'not trusted'}
            </td>
          ))}
        </tr>
      </OverlayTable>
    </>
  )
}
