import type { Basis, Estimate } from '@/lib/contract/estimate'
import { type LedgerKWh, PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import { J_PER_KWH } from '@/lib/units'
import type { Ledger } from './ledger'
import type { Streams } from './operating-point'
import { COVERAGE, type Reach, reachOfSum } from './propagate'
import { kindIndex, type ShareKey, shareIndex } from './totals'

/** Value ± 1.96 standard deviations. */
export function estimate(value: number, sd: number, basis: Basis): Estimate {
  return { value, low: value - COVERAGE * sd, high: value + COVERAGE * sd, basis }
}

/** Value with an interval that may reach further to one side. */
export function reaching(value: number, reach: Reach, basis: Basis): Estimate {
  return { value, low: value - reach.below, high: value + reach.above, basis }
}

/** The same in another unit. */
export function scaled(of: Estimate, factor: number): Estimate {
  const [low, high] = factor < 0 ? [of.high, of.low] : [of.low, of.high]
  return { value: of.value * factor, low: low * factor, high: high * factor, basis: of.basis }
}

/** Sums the weighed results of a ledger, in kWh with its interval. */
function sumKWh(ledger: Ledger, weights: ReadonlyMap<number, number>, basis: Basis): Estimate {
  let valueJ = 0
  for (const [index, weight] of weights) valueJ += weight * ledger.totals[index]
  return scaled(reaching(valueJ, reachOfSum(ledger.sensitivity, weights), basis), 1 / J_PER_KWH)
}

/** Whether a figure rests on a sensor at that place, on a model fed by sensors, or on defaults alone. */
export function basisOf(ledger: Ledger, key: keyof Streams): Basis {
  const { sensors } = ledger
  const electric: Basis = sensors.power ? 'measured' : sensors.current ? 'estimated' : 'default'
  const flows = [sensors.pumpFlow, sensors.systemFlow, sensors.returnFlow].filter((flow) => flow).length
  switch (key) {
    case 'electricIn':
      return electric
    case 'motorLoss':
    case 'pumpLoss':
      return electric === 'default' ? 'default' : 'estimated'
    case 'overRelief':
      return sensors.returnFlow || flows >= 2 ? 'measured' : flows === 0 ? 'default' : 'estimated'
    case 'unloading':
      return sensors.returnFlow || sensors.pumpFlow ? 'measured' : flows === 0 ? 'default' : 'estimated'
    case 'intoSystem':
    case 'metering':
    case 'work':
      return sensors.systemFlow || flows >= 2 ? 'measured' : flows === 0 ? 'default' : 'estimated'
    case 'unaccounted':
      return electric
  }
}

const weightsOf = (kinds: readonly PhaseKind[], key: keyof Streams) =>
  new Map(kinds.map((kind) => [kindIndex(kind, key), 1]))

/** The account over some kinds of phases, in kWh; metering and work null without a load pressure. */
export function ledgerKWh(ledger: Ledger, kinds: readonly PhaseKind[] = PHASE_KINDS): LedgerKWh {
  const of = (key: keyof Streams) => sumKWh(ledger, weightsOf(kinds, key), basisOf(ledger, key))
  const separable = ledger.sensors.loadPressure !== null
  return {
    electricIn: of('electricIn'),
    motorLoss: of('motorLoss'),
    pumpLoss: of('pumpLoss'),
    overRelief: of('overRelief'),
    unloading: of('unloading'),
    intoSystem: of('intoSystem'),
    metering: separable ? of('metering') : null,
    work: separable ? of('work') : null,
    unaccounted: of('unaccounted'),
  }
}

/** What each destination costs at the meter; the parts add up to the electric input. */
export function meterSharesKWh(ledger: Ledger) {
  const of = (key: ShareKey, basis: Basis) => sumKWh(ledger, new Map([[shareIndex(key), 1]]), basis)
  const into = basisOf(ledger, 'intoSystem')
  return {
    idle: of('idle', basisOf(ledger, 'electricIn')),
    overRelief: of('overRelief', basisOf(ledger, 'overRelief')),
    metering: ledger.sensors.loadPressure ? of('metering', into) : null,
    work: of('work', into),
    unaccounted: of('unaccounted', basisOf(ledger, 'unaccounted')),
  }
}
