import { PHASE_KINDS, type Result, STREAMS } from '@/lib/contract/result'
import { HowList, type HowRow } from '../explain/how-list'
import { DESTINATIONS, METER_SHARES, PHASES } from '../streams'

const INPUT = 'Electric input'

/** Rows of an account, each opening to how it was reached. */
function rowsOf(start: string, account: Result['ledgerKWh']): HowRow[] {
  const row = (key: keyof Result['ledgerKWh'], name: string): HowRow => ({
    name,
    figure: `${start}.${key}`,
    unit: 'kWh',
    estimate: account[key],
    absent: 'not separable',
  })
  return [row('electricIn', INPUT), ...STREAMS.map((stream) => row(stream, DESTINATIONS[stream].label))]
}

/** What the account holds apart, for machines that have it. */
const besideRows = ({ auxiliariesKWh, ownCircuitsKWh }: Result): HowRow[] =>
  [
    { name: 'Auxiliaries, beside these', figure: 'auxiliariesKWh', unit: 'kWh', estimate: auxiliariesKWh },
    {
      name: 'Circuits of their own, within these',
      figure: 'ownCircuitsKWh',
      unit: 'kWh',
      estimate: ownCircuitsKWh,
    },
  ].filter(({ estimate }) => estimate)

/** How every line of the account is reached, whole, at the meter and by phase; opens beneath it. */
export function LedgerExplained({ result, logId }: { result: Result; logId: string }) {
  const { ledgerKWh, ledgerByPhase, meterSharesKWh: shares } = result
  const whole = [...rowsOf('ledgerKWh', ledgerKWh), ...besideRows(result)]
  return (
    <details className="twin">
      <summary>How each line is reached</summary>
      <p className="soft">
        Power is a product in every sample; energy is power times the time the sample holds. Each line opens
        to its formula, inputs, sensors, defaults and what its interval is made of.
      </p>
      <h3>Whole log</h3>
      <HowList logId={logId} label="Whole log" rows={whole} />
      <h3>At the meter</h3>
      <HowList
        logId={logId}
        label="At the meter"
        rows={METER_SHARES.map((key) => ({
          name: (key === 'work' && !shares.metering ? DESTINATIONS.intoSystem : DESTINATIONS[key]).label,
          figure: `meterSharesKWh.${key}`,
          unit: 'kWh',
          estimate: shares[key],
          absent: 'not separable',
        }))}
      />
      <h3>By phase</h3>
      {PHASE_KINDS.filter((kind) => ledgerByPhase[kind]).map((kind) => (
        <details key={kind} className="twin">
          <summary>{PHASES[kind].label}</summary>
          <HowList
            logId={logId}
            label={PHASES[kind].label}
            rows={rowsOf(`ledgerByPhase.${kind}`, ledgerByPhase[kind])}
          />
        </details>
      ))}
    </details>
  )
}
