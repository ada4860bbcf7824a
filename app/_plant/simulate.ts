import { seededRandom } from '@/lib/numeric/random'
import { demand } from './duty'
import { relativeViscosity } from './make-pump'
import { createPowerUnit } from './power-unit'
import { programme } from './programme'
import { type Recording, record } from './sensors'
import type { Change, MachineSpec, Signal, TruthPhase, Visit } from './spec'
import { createBookkeeper, type TruthLedger, truthPhases } from './truth'

export interface Simulated {
  readonly recording: Recording
  readonly truth: {
    readonly sampleRateHz: number
    readonly ledgerKWh: TruthLedger
    readonly phases: readonly TruthPhase[]
  }
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

/**
 * One visit of the logger to a machine. The demand is drawn from the seed, the supply answers it
 * (changed, if a change is given), energy is summed at fine steps, sensors are read at the logger's rate.
 */
export function simulate(spec: MachineSpec, visit: Visit, change?: Change): Simulated {
  const fineHz = visit.fineHz ?? 100
  const stepS = 1 / fineHz
  const runs = programme(spec, demand(spec.duty, visit.durationS, fineHz, seededRandom(visit.seed)), change)
  const gaps = visit.gaps ?? []
  const steps = Math.round(visit.durationS * fineHz)
  const every = Math.round(fineHz / visit.rateHz)
  const samples = Math.ceil(steps / every)
  const unit = createPowerUnit(spec)
  const book = createBookkeeper(runs.length)
  const needed = SIGNALS.filter(
    (signal) => signal === 'pumpPressurePa' || spec.sensors.some((sensor) => sensor.signal === signal),
  )
  const gains = needed.map((signal) => 1 - Math.exp(-stepS / SENSOR_LAG_S[signal]))
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
    const due = step % every === 0
    quiet = unit.settled ? quiet + 1 : 0
    for (let i = 0; i < needed.length; i += 1) {
      if (quiet > fineHz) {
        if (due) readings[i][step / every] = shown[i]
        continue
      }
      const value = showing(needed[i], unit, run.kind.startsWith('work-'), oilC)
      shown[i] += (step === 0 ? 1 : gains[i]) * (value - shown[i])
      if (due) readings[i][step / every] = shown[i]
    }
  }
  const truth = Object.fromEntries(needed.map((signal, i) => [signal, readings[i]])) as Record<
    Signal,
    Float64Array
  >
  return {
    recording: record(spec, visit, truth),
    truth: { sampleRateHz: visit.rateHz, ledgerKWh: book.ledger(), phases: truthPhases(runs, book, gaps) },
  }
}

function showing(
  signal: Signal,
  { flows, valves, drive }: ReturnType<typeof createPowerUnit>,
  works: boolean,
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
      return drive.currentA
    case 'powerW':
      return drive.inputW
    case 'oilC':
      return oilC
    case 'cycleActive':
      return works ? 1 : 0
  }
}

/** Share of the electric input that a change would have saved, for the same demand. */
export function savedShare(spec: MachineSpec, visit: Visit, change: Change): number {
  const before = simulate(spec, visit).truth.ledgerKWh.electricIn
  return (before - simulate(spec, visit, change).truth.ledgerKWh.electricIn) / before
}
