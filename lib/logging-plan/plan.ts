import type { Machine } from '@/lib/contract/machine'
import type { Site } from '@/lib/contract/site'
import { machineModel } from '@/lib/machine/machine-model'
import { type DutyMix, mixOf } from './duty-mix'
import { type Fixed, type Length, lengthFor, WANTED_SHARES } from './length'
import { type MissingDatum, missingData } from './missing-data'
import { type Rehearsal, rehearse } from './rehearse'
import { motorLoad } from './rehearsed-states'
import { type SamplingRate, samplingRate } from './sampling-rate'
import { type Scatter, type SeenLog, scatterOf } from './scatter'
import { type SensorData, sensorDataOf } from './sensor-data'
import { type StationWorth, stationWorth, wasteHalf } from './station-worth'
import { STATION_IDS, type StationId } from './stations'
import { type Clusters, type Visits, visitsFor } from './visits'

/** What a user asks of the plan. */
export interface Wishes extends Clusters {
  readonly stations: readonly StationId[]
  /** Half-width of the 95 % interval of the yearly waste, as a share of it. */
  readonly wanted: number
  readonly shortestPhaseS: number
}

/** The least that separates all lines of the account and lets every option be judged (held so by a test). */
export const RECOMMENDED: readonly StationId[] = [
  'pressure:pump-outlet',
  'pressure:load',
  'flow:system-line',
  'power:motor-supply',
]

/** A sensor of the plan, or one that might be added. */
export interface PlannedStation {
  readonly id: StationId
  readonly isFitted: boolean
  readonly sensor: SensorData
  /** Null for one that adds nothing that the engine asks for, or where no account can be had at all. */
  readonly worth: StationWorth | null
}

/** A gap in the machine's set-up, and what filling it would narrow. */
export interface PlannedDatum extends Omit<MissingDatum, 'filled'> {
  /** Half-widths over the waste, and of the motor's loss over the input, with it filled in; null where no interval answers to it. */
  readonly narrowed: {
    readonly waste: number | null
    readonly motorLoss: number | null
  } | null
}

export interface LoggingPlan {
  readonly wishes: Wishes
  readonly mix: DutyMix
  readonly rehearsal: Rehearsal | null
  /** Half-width of the waste where no stretch with the machine at rest shows the sensors' zeros. */
  readonly wasteWithoutRest: number | null
  readonly stations: readonly PlannedStation[]
  readonly missing: readonly PlannedDatum[]
  /** What the pump takes at its highest pressure over what the motor is rated for: far from one, a plate was misread. */
  readonly motorLoad: number
  readonly rate: SamplingRate
  readonly scatters: readonly Scatter[]
  readonly fixed: Fixed
  readonly lengths: readonly Length[]
  readonly length: Length
  readonly visits: Visits | null
}

export interface PlanInputs {
  readonly machine: Machine
  readonly site: Site
  readonly logs: readonly SeenLog[]
  /** Local day at the site of an instant. */
  readonly dayOf: (epochMs: number) => string
  readonly wishes: Wishes
}

/** Hours by kind over all logs. */
function hoursOf(logs: readonly SeenLog[]): Record<string, number> {
  const hours: Record<string, number> = {}
  for (const { ledgerByPhase } of logs) {
    for (const [kind, of] of Object.entries(ledgerByPhase)) hours[kind] = (hours[kind] ?? 0) + of.hours
  }
  return hours
}

/** Runs a job that pauses between its pieces to its end. */
export function finished<Value>(job: Generator<void, Value>): Value {
  for (;;) {
    const next = job.next()
    if (next.done) return next.value
  }
}

/**
 * The logging plan of a machine. Asks the engine some twenty times, so it pauses between the askings: whoever runs it
 * may let others go first.
 */
export function* loggingPlan({
  machine,
  site,
  logs,
  dayOf,
  wishes,
}: PlanInputs): Generator<void, LoggingPlan> {
  const mix = mixOf(hoursOf(logs), machine)
  const ask = (stations: readonly StationId[], of = machine) => rehearse(of, site, mix, stations)
  const rehearsal = ask(wishes.stations)
  yield
  const stations: PlannedStation[] = []
  for (const id of STATION_IDS) {
    const isFitted = wishes.stations.includes(id)
    const others = wishes.stations.filter((one) => one !== id)
    const other = ask(isFitted ? others : [...others, id])
    const [withIt, without] = isFitted ? [rehearsal, other] : [other, rehearsal]
    const worth = withIt && stationWorth(withIt, without)
    stations.push({ id, isFitted, sensor: sensorDataOf(id, machine), worth })
    yield
  }
  const missing: PlannedDatum[] = []
  for (const { field, assumed, filled } of missingData(machine)) {
    const told = filled && ask(wishes.stations, filled)
    const motorLoss = told?.streams.motorLoss?.halfShare ?? null
    missing.push({ field, assumed, narrowed: told && { waste: wasteHalf(told), motorLoss } })
    yield
  }
  const atOnce = rehearse(machine, site, mix, wishes.stations, { withRest: false })
  const scatters = scatterOf(logs, dayOf)
  const fixed: Fixed = { sensors: wasteHalf(rehearsal), hours: site.plannedHoursLimitShare }
  const length = lengthFor(wishes.wanted, fixed, scatters)
  return {
    wishes,
    mix,
    rehearsal,
    wasteWithoutRest: wasteHalf(atOnce),
    stations,
    missing,
    motorLoad: motorLoad(machineModel(machine)),
    rate: samplingRate(wishes.shortestPhaseS),
    scatters,
    fixed,
    lengths: WANTED_SHARES.map((wanted) => lengthFor(wanted, fixed, scatters)),
    length,
    visits: visitsFor(length, wishes),
  }
}
