import { ledgerKWh } from './estimates'
import type { Ledger } from './ledger'

/** Wider than this share of electric input, either way, a figure says too little. */
const WIDE_SHARE = 0.1

/** The flow meter that would settle the node's balance; null where two settle it already. */
function missingFlow({ pumpFlow, systemFlow, returnFlow }: Ledger['sensors']): string | null {
  if ([pumpFlow, systemFlow, returnFlow].filter((meter) => meter !== null).length >= 2) return null
  return systemFlow ? 'flow:relief-return' : 'flow:system-line'
}

/**
 * Streams that the fitted sensors cannot tell apart, and the sensor that would: work from metering without a load
 * pressure; others where the interval is wide and a meter is missing.
 */
export function notSeparable(ledger: Ledger): { stream: string; sensor: string }[] {
  const { sensors, model } = ledger
  const out: { stream: string; sensor: string }[] = []
  if (!sensors.loadPressure) {
    out.push({ stream: 'metering', sensor: 'pressure:load' }, { stream: 'work', sensor: 'pressure:load' })
  }
  const figures = ledgerKWh(ledger)
  const flow = model.isFixed
    ? missingFlow(sensors)
    : sensors.pumpFlow || sensors.systemFlow
      ? null
      : 'flow:pump-outlet'
  const power = sensors.power ? null : 'power:motor-supply'
  const wide = (['overRelief', 'intoSystem', 'pumpLoss', 'motorLoss'] as const).filter(
    (stream) => figures[stream].high - figures[stream].low > 2 * WIDE_SHARE * figures.electricIn.value,
  )
  for (const stream of wide) {
    const sensor = stream === 'motorLoss' ? power : (flow ?? (stream === 'pumpLoss' ? power : null))
    if (sensor) out.push({ stream, sensor })
  }
  return out
}
