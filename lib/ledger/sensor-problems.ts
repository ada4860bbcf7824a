import type { Problem } from '@/lib/contract/result'
import { PA_PER_BAR } from '@/lib/units'
import type { Ledger } from './ledger'

/**
 * Sensors whose readings were taken out or read with care: spikes, stuck stretches, slow meters,
 * and load sensors that show pressure with the pump at rest. Counts are samples.
 */
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
    ...sensors.loadZeros
      .filter(({ isOffset }) => !isOffset)
      .map(({ column, restPa, limitPa }) => ({
        code: 'load-at-rest',
        line: null,
        column,
        count: 1,
        values: { restBar: restPa / PA_PER_BAR, limitBar: limitPa / PA_PER_BAR },
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
