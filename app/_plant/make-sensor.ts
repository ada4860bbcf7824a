import type { Accuracy } from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'
import type { Sensor, Signal } from './spec'

const PLAIN: Readonly<Record<Signal, { column: string; unit: Unit; decimals: number }>> = {
  pumpPressurePa: { column: 'Pump pressure [bar]', unit: 'bar', decimals: 2 },
  loadPressurePa: { column: 'Load pressure [bar]', unit: 'bar', decimals: 2 },
  pumpFlowM3S: { column: 'Pump flow [L/min]', unit: 'L/min', decimals: 2 },
  systemFlowM3S: { column: 'Line flow [L/min]', unit: 'L/min', decimals: 2 },
  reliefFlowM3S: { column: 'Relief return flow [L/min]', unit: 'L/min', decimals: 2 },
  currentA: { column: 'Motor current [A]', unit: 'A', decimals: 2 },
  powerW: { column: 'Motor power [kW]', unit: 'kW', decimals: 3 },
  oilC: { column: 'Oil temperature [°C]', unit: '°C', decimals: 1 },
  cycleActive: { column: 'Cycle active', unit: '1', decimals: 0 },
}

/** A sensor of ordinary quality; anything can be overruled. Accuracy and noise in per cent of full scale. */
export function makeSensor(signal: Signal, fullScale: number, rest: Partial<Sensor> = {}): Sensor {
  const offsetPercent = rest.offsetPercent ?? 0.5
  const declared: Accuracy | null =
    signal === 'cycleActive' ? null : { percentOfFullScale: offsetPercent, fullScale }
  const noise = signal === 'cycleActive' || signal === 'oilC' ? 0 : 0.2
  return { signal, ...PLAIN[signal], fullScale, offsetPercent, noisePercent: noise, declared, ...rest }
}

/** The next size of transmitter above a reading. */
export function nextFullScale(reading: number): number {
  const sizes = [10, 16, 25, 40, 60, 100, 160, 200, 250, 400, 600, 1000]
  return sizes.find((size) => size >= reading * 1.05) ?? reading * 2
}
