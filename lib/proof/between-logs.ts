import { meanOf } from '@/lib/numeric/mean'
import type { Unit } from './units'

/**
 * Logs differ by more than their cycles show: oil temperature, supply voltage, tools. Two or three logs cannot tell by how
 * much; the least that is reckoned with, 1 sd, as a share of a unit's energy (common practice, no source).
 */
export const LEAST_BETWEEN_SHARE = 0.0025

/**
 * Variance between logs of a unit's energy, J², beyond what scatter within logs and sensors explain: one-way analysis of
 * variance by moments (the estimator that meta-analysis calls DerSimonian and Laird's, from memory). Nil with one log.
 * @param residuals of the units, J
 * @param inflation of variances of means, as neighbours are alike
 * @param sensorVariance what the logs' own sensors add to a unit, J²
 */
export function betweenLogs(
  units: readonly Unit[],
  residuals: readonly number[],
  inflation: number,
  sensorVariance: number,
): number {
  const logs = new Map<number, number[]>()
  units.forEach(({ log }, i) => {
    const values = logs.get(log) ?? []
    values.push(residuals[i])
    logs.set(log, values)
  })
  const groups = [...logs.values()]
  const degrees = residuals.length - groups.length
  if (groups.length < 2 || degrees < 1) return 0
  const all = meanOf(residuals)
  let within = 0
  let between = 0
  let squares = 0
  for (const values of groups) {
    const mean = meanOf(values)
    for (const value of values) within += (value - mean) ** 2
    between += values.length * (mean - all) ** 2
    squares += values.length ** 2
  }
  const perLog = (residuals.length - squares / residuals.length) / (groups.length - 1)
  const expected = (within / degrees) * inflation
  return Math.max(0, (between / (groups.length - 1) - expected) / perLog - sensorVariance)
}
