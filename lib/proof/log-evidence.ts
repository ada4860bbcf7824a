import { PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import { basisOf } from '@/lib/ledger/estimates'
import { electricOfStepJ, type Ledger } from '@/lib/ledger/ledger'
import type { Cycle } from '@/lib/phases/cycles'
import { readerOf } from '@/lib/samples/samples'
import type { Trace } from '@/lib/samples/trace'
import { doubtsOf } from './doubts'
import type { CycleColumns, LogEvidence } from './evidence'

/** A stretch must last this long to tell a cycle's highest pressure, s: shorter ones are peaks of switching. */
const LASTING_S = 0.5

const isIdle = (kind: PhaseKind) => kind.startsWith('idle')
const isWork = (kind: PhaseKind) => kind.startsWith('work')

/** Mean of what was known, weighed by time; null where nothing was. */
class TimeMean {
  private sum = 0
  private seconds = 0
  add(value: number, seconds: number): void {
    if (Number.isNaN(value)) return
    this.sum += value * seconds
    this.seconds += seconds
  }
  get value(): number | null {
    return this.seconds > 0 ? this.sum / this.seconds : null
  }
}

/** Mean of the oil temperature over samples [from, to), °C; NaN without a sensor. */
function oilMean(trace: Trace): (from: number, to: number) => number {
  const channel = trace.channels.find(
    ({ quantity, location }) => quantity === 'temperature' && location === 'oil',
  )
  if (!channel) return () => Number.NaN
  const [values, holdS] = [readerOf(channel.values), readerOf(trace.holdS)]
  return (from, to) => {
    const mean = new TimeMean()
    for (let i = from; i < to; i++) mean.add(values.at(i), holdS.at(i))
    return mean.value ?? Number.NaN
  }
}

type OilMean = ReturnType<typeof oilMean>

function cycleColumns(ledger: Ledger, cycles: readonly Cycle[], oilOf: OilMean): CycleColumns {
  const { trace, segmentation } = ledger
  const { steps } = segmentation
  const columns = {
    startS: cycles.map(({ startS }) => startS),
    endS: cycles.map(({ endS }) => endS),
    energyJ: cycles.map(() => 0),
    seconds: {} as Partial<Record<PhaseKind, number[]>>,
    loadPa: [] as (number | null)[],
    oilC: [] as (number | null)[],
    idlePa: [] as (number | null)[],
    highestPa: [] as (number | null)[],
  }
  const timeS = readerOf(trace.timeS)
  let at = 0
  cycles.forEach(({ startS, endS }, k) => {
    const [load, oil, idle] = [new TimeMean(), new TimeMean(), new TimeMean()]
    let highest: number | null = null
    while (at < steps.length && timeS.at(steps[at].from) < startS - 1e-9) at++
    for (; at < steps.length && timeS.at(steps[at].from) < endS - 1e-9; at++) {
      const { kind, durationS, means, from, to } = steps[at]
      columns.energyJ[k] += electricOfStepJ(ledger, at)
      columns.seconds[kind] ??= cycles.map(() => 0)
      const seconds = columns.seconds[kind]
      if (seconds) seconds[k] += durationS
      oil.add(oilOf(from, to), durationS)
      if (isWork(kind)) load.add(means.loadPressurePa, durationS)
      if (isIdle(kind)) idle.add(means.pumpPressurePa, durationS)
      if (durationS >= LASTING_S && !Number.isNaN(means.pumpPressurePa))
        highest = Math.max(highest ?? means.pumpPressurePa, means.pumpPressurePa)
    }
    columns.loadPa.push(load.value)
    columns.oilC.push(oil.value)
    columns.idlePa.push(idle.value)
    columns.highestPa.push(highest)
  })
  return columns
}

/** What a recording says for a proof of savings, collected while its ledger is there. */
export function logEvidence(ledger: Ledger, cycles: readonly Cycle[]): LogEvidence {
  const { trace, segmentation } = ledger
  const secondsByKind: Partial<Record<PhaseKind, number>> = {}
  const energyByKindJ: Partial<Record<PhaseKind, number>> = {}
  const [load, oil] = [new TimeMean(), new TimeMean()]
  const oilOf = oilMean(trace)
  segmentation.steps.forEach(({ kind, durationS, means, from, to }, k) => {
    secondsByKind[kind] = (secondsByKind[kind] ?? 0) + durationS
    energyByKindJ[kind] = (energyByKindJ[kind] ?? 0) + electricOfStepJ(ledger, k)
    if (isWork(kind)) load.add(means.loadPressurePa, durationS)
    if (isWork(kind) || isIdle(kind)) oil.add(oilOf(from, to), durationS)
  })
  const electricJ = PHASE_KINDS.reduce((sum, kind) => sum + (energyByKindJ[kind] ?? 0), 0)
  const last = trace.timeS.length - 1
  return {
    version: 1,
    startedAtMs: trace.startedAtMs,
    durationS: readerOf(trace.timeS).at(last) + trace.sampleIntervalS,
    sampleIntervalS: trace.sampleIntervalS,
    electricJ,
    secondsByKind,
    energyByKindJ,
    basis: basisOf(ledger, 'electricIn'),
    cycles: cycleColumns(ledger, cycles, oilOf),
    ...doubtsOf(ledger),
    sensors: trace.channels.map(({ column, quantity, location, accuracy }) => ({
      column,
      quantity,
      location,
      accuracy,
    })),
    loadPa: load.value,
    oilC: oil.value,
    reliefSettingPa: ledger.ownReliefLine?.curve.settingPa ?? null,
  }
}
