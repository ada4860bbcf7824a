import { seededRandom } from '@/lib/numeric/random'
import { changedParts } from './changed-parts'
import { demand, type Segment } from './duty'
import { auxiliaryLoads } from './feeder'
import { relativeViscosity } from './make-pump'
import { createPowerUnit } from './power-unit'
import { programme, type Run } from './programme'
import { type Recording, record } from './sensors'
import type { Change, MachineSpec, Signal, TruthPhase, Visit } from './spec'
import { type BesideAccount, createBookkeeper, type TruthLedger, truthPhases } from './truth'

export interface Simulated {
  readonly recording: Recording
  readonly truth: {
    readonly sampleRateHz: number
    readonly ledgerKWh: TruthLedger
    readonly phases: readonly TruthPhase[]
  }
  readonly besideKWh: BesideAccount
  /** Oil that the actuators took in each segment of the demand, m³. */
  readonly movedM3: readonly number[]
  /** Electric input in each segment of the demand while it was logged. */
  readonly segments: readonly { readonly startS: number; readonly endS: number; readonly inputJ: number }[]
}

/** What lies between the oil or the conductor and the number, as a first-order lag. */
const SENSOR_LAG_S: Readonly<Record<Signal, number>> = {
  pumpPressurePa: 0.02,
  loadPressurePa: 0.02,
  pumpFlowM3S: 0.06,
  systemFlowM3S: 0.06,
  reliefFlowM3S: 0.06,
  currentA: 0.04,
  powerW: 0.06,
  oilC: 0.01,
  cycleActive: 0.001,
}
const SIGNALS = Object.keys(SENSOR_LAG_S) as Signal[]

/** The demand with some segments longer or shorter, and all that follows later or earlier. */
function stretched(segments: readonly Segment[], factors: readonly number[] | undefined): readonly Segment[] {
  if (!factors) return segments
  let clock = 0
  return segments.map((segment, i) => {
    const startS = clock
    clock += (segment.endS - segment.startS) * factors[i]
    return { ...segment, startS, endS: clock }
  })
}

/**
 * One visit of the logger to a machine. The demand is drawn from the seed, the supply answers it
 * (changed, if a change is given), energy is summed at fine steps, sensors are read at the logger's rate.
 * `factors` makes segments of the demand longer, where a change makes their strokes slower.
 */
export function simulate(
  spec: MachineSpec,
  visit: Visit,
  change?: Change,
  factors?: readonly number[],
): Simulated {
  const fineHz = visit.fineHz ?? 100
  const stepS = 1 / fineHz
  const drawn = demand(spec.duty, visit.durationS, fineHz, seededRandom(visit.seed))
  const segments = stretched(drawn, factors)
  const runs = programme(changedParts(spec, change), segments, change, visit.changedFromS)
  const durationS = factors ? segments[segments.length - 1].endS : visit.durationS
  const gaps = visit.gaps ?? []
  const steps = Math.round(durationS * fineHz)
  const every = Math.round(fineHz / visit.rateHz)
  const samples = Math.ceil(steps / every)
  const unit = createPowerUnit(spec, change)
  const auxiliaries = auxiliaryLoads(spec)
  const book = createBookkeeper(runs.length)
  const needed = SIGNALS.filter(
    (signal) => signal === 'pumpPressurePa' || spec.sensors.some((sensor) => sensor.signal === signal),
  )
  const gains = needed.map(
    (signal) => 1 - Math.exp(-stepS / (spec.meterLagS?.[signal] ?? SENSOR_LAG_S[signal])),
  )
  const shown = new Float64Array(needed.length)
  const readings = needed.map(() => new Float64Array(samples))
  let oilC = spec.oil.startC
  let viscosity = relativeViscosity(oilC)
  let runAt = 0
  let gapAt = 0
  // Steps at rest: after a second of them the lagging sensors have arrived too.
  let quiet = 0

  for (let step = 0; step < steps; step += 1) {
    const timeS = step * stepS
    while (runAt + 1 < runs.length && timeS >= runs[runAt].endS - stepS / 2) {
      runAt += 1
      quiet = 0
    }
    if (step % (fineHz * 5) === 0) {
      const { startC, settledC, timeConstantS } = spec.oil
      oilC = settledC + (startC - settledC) * Math.exp(-timeS / timeConstantS)
      viscosity = relativeViscosity(oilC)
    }
    const run = runs[runAt]
    unit.advance(run, timeS, stepS, viscosity)
    while (gapAt < gaps.length && timeS >= gaps[gapAt].endS - stepS / 2) gapAt += 1
    const logged = gapAt >= gaps.length || timeS < gaps[gapAt].startS - stepS / 2
    if (logged && run.mode !== 'off') book.book(unit, run, runAt, stepS)
    if (logged) book.bookAuxiliaries(auxiliaries.powerW(run.mode !== 'off'), stepS)
    const due = step % every === 0
    quiet = unit.settled ? quiet + 1 : 0
    for (let i = 0; i < needed.length; i += 1) {
      if (quiet > fineHz) {
        if (due) readings[i][step / every] = shown[i]
        continue
      }
      const value = showing(needed[i], unit, auxiliaries, run, oilC)
      shown[i] += (step === 0 ? 1 : gains[i]) * (value - shown[i])
      if (due) readings[i][step / every] = shown[i]
    }
  }
  const truth = Object.fromEntries(needed.map((signal, i) => [signal, readings[i]])) as Record<
    Signal,
    Float64Array
  >
  const movedM3 = segments.map(() => 0)
  const inputJ = segments.map(() => 0)
  runs.forEach((run, i) => {
    movedM3[run.segmentAt] += book.movedM3(i)
    inputJ[run.segmentAt] += book.inputJ(i)
  })
  return {
    movedM3,
    segments: segments.map(({ startS, endS }, i) => ({ startS, endS, inputJ: inputJ[i] })),
    besideKWh: book.beside(),
    recording: record(spec, visit, truth),
    truth: { sampleRateHz: visit.rateHz, ledgerKWh: book.ledger(), phases: truthPhases(runs, book, gaps) },
  }
}

function showing(
  signal: Signal,
  { flows, valves, motors }: ReturnType<typeof createPowerUnit>,
  auxiliaries: ReturnType<typeof auxiliaryLoads>,
  run: Run,
  oilC: number,
): number {
  switch (signal) {
    case 'pumpPressurePa':
      return flows.pressurePa
    case 'loadPressurePa':
      return Math.min(valves.loadPa, flows.pressurePa || valves.loadPa)
    case 'pumpFlowM3S':
      return flows.pumpM3S
    case 'systemFlowM3S':
      return flows.actuatorM3S + flows.centreM3S
    case 'reliefFlowM3S':
      return flows.reliefM3S
    case 'currentA':
      return auxiliaries.currentA(motors, run.mode !== 'off')
    case 'powerW':
      return motors.inputW + auxiliaries.powerW(run.mode !== 'off')
    case 'oilC':
      return oilC
    case 'cycleActive':
      return run.kind.startsWith('work-') ? 1 : 0
  }
}

/** Strokes change their time by this much or more before the demand is stretched. */
const SLOWER = 0.002

/**
 * How much longer each segment must last so that its strokes move as much oil as before: changes that leave a
 * stroke more or less flow change its time.
 */
function strokeFactors(
  spec: MachineSpec,
  visit: Visit,
  change: Change,
  movedM3: readonly number[],
): number[] {
  const changed = simulate(spec, visit, change).movedM3
  const drawn = demand(spec.duty, visit.durationS, visit.fineHz ?? 100, seededRandom(visit.seed))
  return drawn.map(({ kind }, i) => {
    const strokes = kind === 'work-moving' || kind === 'work-metering'
    const factor = strokes && changed[i] > 0 ? movedM3[i] / changed[i] : 1
    return Math.abs(factor - 1) < SLOWER ? 1 : factor
  })
}

/** Share of the electric input that a change would have saved, for the same demand. */
export function savedShare(spec: MachineSpec, visit: Visit, change: Change): number {
  const before = simulate(spec, visit)
  const factors = CHANGES_STROKES.has(change.id)
    ? strokeFactors(spec, visit, change, before.movedM3)
    : undefined
  const after = simulate(spec, visit, change, factors).truth.ledgerKWh.electricIn
  const input = before.truth.ledgerKWh.electricIn
  return (input - after) / input
}

const CHANGES_STROKES: ReadonlySet<Change['id']> = new Set([
  'smaller-pump',
  'high-low-pumps',
  'restore-pump',
  'replace-relief-valve',
  'efficient-motor',
  'load-sensing-pump',
])
