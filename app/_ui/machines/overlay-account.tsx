import { ShareBar } from '@/app/_charts/share-bar'
import type { OverlaidMachine } from '@/app/_server/views/overlay-view'
import type { Estimate } from '@/lib/contract/estimate'
import { EstimateCell } from '../estimate-cell'
import { percent } from '../format'
import { Key } from '../key'
import { Scroll } from '../scroll'
import { DESTINATIONS, METER_SHARES } from '../streams'

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
      <Scroll label="Where each kWh goes">
        <table>
          <caption>
            Share of electric input at the meter: each stream with its share of pump and motor loss. Where
            metering cannot be separated, work holds it.
          </caption>
          <thead>
            <tr>
              <th scope="col">Destination</th>
              {machines.map(({ id, name }) => (
                <th key={id} scope="col" className="num">
                  {name} <span className="unit">% of input, ± 95 %</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">All</th>
              {machines.map((machine) => (
                <td key={machine.id}>
                  <ShareBar
                    parts={METER_SHARES.map((key) => ({
                      key,
                      share: perInput(machine, machine.result.meterSharesKWh[key])?.value ?? 0,
                    }))}
                  />
                </td>
              ))}
            </tr>
            {METER_SHARES.map((key) => (
              <tr key={key}>
                <th scope="row">
                  <Key token={DESTINATIONS[key].token} />
                  {DESTINATIONS[key].label}
                </th>
                {machines.map((machine) => (
                  <EstimateCell
                    key={machine.id}
                    estimate={perInput(machine, machine.result.meterSharesKWh[key])}
                    scale={100}
                    absent="not separable"
                  />
                ))}
              </tr>
            ))}
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
          </tbody>
        </table>
      </Scroll>
    </>
  )
}
