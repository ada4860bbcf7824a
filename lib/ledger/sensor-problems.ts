import type { Problem } from '@/lib/contract/result'
import type { Ledger } from './ledger'

/** Sensors whose readings were taken out or read with care: spikes, stuck stretches, slow meters. Counts are samples. */
export function sensorProblems({
  sensors,
  segmentation,
}: Pick<Ledger, 'sensors' | 'segmentation'>): Problem[] {
  return [
    ...sensors.faults.map(({ code, column, count, startS, endS }) => ({
      code,
      line: null,
      column,
      count,
      values: { startS, endS },
    })),
    ...segmentation.slow.map(({ column, timeConstantS }) => ({
      code: 'sensor-slow',
      line: null,
      column,
      count: 1,
      values: { timeConstantS },
    })),
  ]
}
