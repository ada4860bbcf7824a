import type { Ledger } from './ledger'

/** Streams that the fitted sensors cannot tell apart, and the sensor that would. */
export function notSeparable(ledger: Ledger): { stream: string; sensor: string }[] {
  const { sensors } = ledger
  const out: { stream: string; sensor: string }[] = []
  if (!sensors.loadPressure) {
    out.push({ stream: 'metering', sensor: 'pressure:load' }, { stream: 'work', sensor: 'pressure:load' })
  }
  return out
}
