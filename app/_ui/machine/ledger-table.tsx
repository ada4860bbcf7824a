import { Scroll } from '@/app/_ui/scroll'
import type { Estimate } from '@/lib/contract/estimate'
import { type LedgerKWh, PHASE_KINDS, type PhaseKind, type Result, type Stream } from '@/lib/contract/result'
import { EstimateCell } from '../estimate-cell'
import { number, percent } from '../format'
import { Key } from '../key'
import { BASIS_NAMES } from '../labels'
import { NumHead } from '../num-head'
import { DESTINATIONS, METER_SHARES, PHASES, STACK, STACK_JOINED } from '../streams'

const LINES: readonly Stream[] = ['motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem']
const SPLIT: readonly Stream[] = ['metering', 'work']

/** The account of the whole log: every destination with interval, share and basis. */
export function LedgerTable({ ledger }: { ledger: LedgerKWh }) {
  const row = (stream: Stream, sub = false) => {
    const estimate = ledger[stream]
    return (
      <tr key={stream} className={sub ? 'sub' : undefined}>
        <th scope="row">
          <Key token={DESTINATIONS[stream].token} />
          {DESTINATIONS[stream].label}
        </th>
        <EstimateCell estimate={estimate} absent="not separable" />
        <td className="num">{estimate ? percent(estimate.value / ledger.electricIn.value, 3) : ''}</td>
        <td className="soft wide-only">
          {estimate ? BASIS_NAMES[estimate.basis] : 'fit a load pressure sensor'}
        </td>
      </tr>
    )
  }
  return (
    <Scroll label="Account of the whole log">
      <table>
        <caption>Account of the whole log, hydraulic streams as they are at the pump outlet</caption>
        <thead>
          <tr>
            <th scope="col">Destination</th>
            <NumHead name="Energy" unit="kWh, ± 95 %" />
            <NumHead name="Share of input" unit="%" />
            <th scope="col" className="wide-only">
              Basis
            </th>
          </tr>
        </thead>
        <tbody>
          {LINES.map((stream) => row(stream))}
          {SPLIT.map((stream) => row(stream, true))}
          {row('unaccounted')}
          <tr className="total">
            <th scope="row">Electric input</th>
            <EstimateCell estimate={ledger.electricIn} />
            <td className="num">{percent(1, 3)}</td>
            <td className="soft wide-only">{BASIS_NAMES[ledger.electricIn.basis]}</td>
          </tr>
        </tbody>
      </table>
    </Scroll>
  )
}

/** The account by phase: hours, mean electric power and every destination. */
export function LedgerByPhase({ result }: { result: Result }) {
  const kinds = PHASE_KINDS.filter((kind) => result.ledgerByPhase[kind])
  const streams = result.ledgerKWh.work ? STACK : STACK_JOINED
  const cell = (ledger: LedgerKWh, stream: Stream): Estimate | null => ledger[stream]
  return (
    <Scroll label="Account by phase">
      <table className="wide">
        <caption>Account by phase, kWh with 95 % interval</caption>
        <thead>
          <tr>
            <th scope="col">Phase</th>
            <NumHead name="Time" unit="h" />
            <NumHead name="Mean input" unit="kW" />
            <NumHead name="Electric input" unit="kWh" />
            {streams.map((stream) => (
              <th scope="col" className="num" key={stream}>
                <Key token={DESTINATIONS[stream].token} />
                {DESTINATIONS[stream].label} <span className="unit">kWh</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {kinds.map((kind: PhaseKind) => {
            const ledger = result.ledgerByPhase[kind]
            return (
              <tr key={kind}>
                <th scope="row" title={PHASES[kind].meaning}>
                  <Key token={PHASES[kind].token} />
                  {PHASES[kind].label}
                </th>
                <td className="num">{number(ledger.hours)}</td>
                <td className="num">
                  {ledger.hours > 0 ? number(ledger.electricIn.value / ledger.hours) : 'no data'}
                </td>
                <EstimateCell estimate={ledger.electricIn} />
                {streams.map((stream) => (
                  <EstimateCell key={stream} estimate={cell(ledger, stream)} absent="not separable" />
                ))}
              </tr>
            )
          })}
        </tbody>
      </table>
    </Scroll>
  )
}

/** What the account holds apart: shown only for machines that have it. */
const BESIDE = [
  {
    key: 'auxiliariesKWh',
    label: 'Auxiliaries, beside these',
    meaning: 'Cooler, filter loop, control as entered: on the same meter, no part of the input above.',
  },
  {
    key: 'ownCircuitsKWh',
    label: 'Circuits of their own, within these',
    meaning: 'Oil of pilot or gear pumps as entered: hydraulic energy, part of what goes into the system.',
  },
] as const

/** Electric input shared over what the oil did: these shares add up to the bill. */
export function MeterShares({ result }: { result: Result }) {
  const shares = result.meterSharesKWh
  const label = (key: (typeof METER_SHARES)[number]) =>
    key === 'work' && !shares.metering ? DESTINATIONS.intoSystem : DESTINATIONS[key]
  return (
    <Scroll label="The same input at the meter">
      <table>
        <caption>
          The same input at the meter: each stream carries its share of motor and pump loss. These add up to
          the bill; savings never come from them, but from replay.
        </caption>
        <thead>
          <tr>
            <th scope="col">Share of the bill</th>
            <NumHead name="Energy" unit="kWh, ± 95 %" />
            <NumHead name="Share" unit="%" />
          </tr>
        </thead>
        <tbody>
          {METER_SHARES.map((key) => (
            <tr key={key}>
              <th scope="row">
                <Key token={label(key).token} />
                {label(key).label}
              </th>
              <EstimateCell estimate={shares[key]} absent="not separable" />
              <td className="num">
                {shares[key] ? percent(shares[key].value / result.ledgerKWh.electricIn.value, 3) : ''}
              </td>
            </tr>
          ))}
          {BESIDE.map(({ key, label, meaning }) =>
            result[key] ? (
              <tr key={key} className="sub">
                <th scope="row" title={meaning}>
                  {label}
                </th>
                <EstimateCell estimate={result[key]} />
                <td className="num" />
              </tr>
            ) : null,
          )}
        </tbody>
      </table>
    </Scroll>
  )
}
