import type { Machine } from '@/lib/contract/machine'
import { type Site, siteSchema } from '@/lib/contract/site'
import { seededRandom } from '@/lib/numeric/random'
import { type FleetMachine, fleet } from './fleet'
import { type WallClock, writeCsv } from './habits'
import { machineFile } from './machine-file'
import { type Simulated, simulate } from './simulate'
import type { Change, Visit } from './spec'

/** Site of the invented plant. Costs are placeholders, not quotes. */
export const PLANT_SITE: Site = siteSchema.parse({
  version: 1,
  name: 'Mill Lane works (invented)',
  timeZone: 'Europe/Vienna',
  currency: 'EUR',
  energyPricePerKWh: 0.19,
  emissionKgPerKWh: 0.25,
  plannedHoursPerYear: 4200,
  optionCosts: {
    'vent-relief-at-idle': [600, 900, 1500],
    'second-relief-setting': [700, 1100, 1900],
    'pressure-compensated-pump': [3500, 5200, 8500],
  },
})

export interface PlantMachine {
  readonly id: string
  readonly line: string
  readonly trade: string
  readonly machine: Machine
}

export interface PlantLog {
  readonly machineId: string
  readonly fileName: string
  readonly csv: string
  readonly truth: Simulated['truth']
}

export interface PlannedVisit {
  readonly machine: FleetMachine
  readonly startedAt: WallClock
  readonly visit: Visit
  readonly weekend: boolean
  /** What had been done to the machine by then; null where nothing. */
  readonly change: Change | null
}

/** The eight machines as a technician would enter them. */
export function plantMachines(): PlantMachine[] {
  return fleet().map(({ id, line, trade, spec }) => ({ id, line, trade, machine: machineFile(spec) }))
}

const FIRST_MONDAY = Date.UTC(2026, 7, 3)
const WEEKS = 13
const DAY_MS = 86_400_000
const MINUTE_S = 60
/** Only one short September visit to the lift table: a month thinly covered. */
const THIN = { machineId: 'lift-3', weeks: [5, 6, 8] }
/** Saturdays and Sundays on which the logger stayed at the test stand. */
const WEEKEND = { machineId: 'stand-2', weeks: [1, 4, 6, 9, 11] }

/**
 * The press's relief is vented while it idles: tried by hand in the middle of the visit of one week, fitted for good from the
 * next one on.
 */
export const VENTED = {
  machineId: 'press-4',
  change: { id: 'vent-relief-at-idle', ventBar: 5, delayS: 0.5 },
  trialWeek: 8,
  installedOn: '2026-10-02',
} as const

/** When in a visit the trial's screw is turned, elapsed seconds. */
export const trialS = (durationS: number) => Math.round(durationS / 2)

/** About one visit a week and machine, August to October 2026, in the order of the calendar. */
export function plannedVisits(): PlannedVisit[] {
  const visits: PlannedVisit[] = []
  const machines = fleet()
  for (let week = 0; week < WEEKS; week += 1) {
    machines.forEach((machine, index) => {
      if (machine.id === THIN.machineId && THIN.weeks.includes(week)) return
      const random = seededRandom((week + 1) * 7919 + index * 104_729)
      const weekend = machine.id === WEEKEND.machineId && WEEKEND.weeks.includes(week)
      const day = weekend ? 5 + (week % 2) : (index + week) % 5
      const startMs = FIRST_MONDAY + (week * 7 + day) * DAY_MS
      const minutesOfDay = 6 * 60 + Math.floor(random() * 7 * 60)
      const at = new Date(startMs + minutesOfDay * MINUTE_S * 1000 + Math.floor(random() * 60) * 1000)
      const minutes = 40 + Math.floor(random() * 81)
      const durationS = minutes * MINUTE_S
      const gapStart = Math.floor(durationS * (0.3 + 0.4 * random()))
      const isPress = machine.id === VENTED.machineId
      const gap = { startS: gapStart, endS: gapStart + 60 + Math.floor(random() * 240) }
      visits.push({
        machine,
        weekend,
        change: isPress && week >= VENTED.trialWeek ? VENTED.change : null,
        startedAt: at.toISOString().slice(0, 19) as WallClock,
        visit: {
          seed: (week + 1) * 1000 + index,
          durationS,
          rateHz: machine.rateHz,
          fineHz: 20,
          ...(isPress && week === VENTED.trialWeek ? { changedFromS: trialS(durationS) } : {}),
          gaps: random() < 0.25 ? [gap] : [],
          lostShare: random() < 0.5 ? 0.0005 : 0,
          spikeShare: random() < 0.2 ? 0.0001 : 0,
        },
      })
    })
  }
  return visits.sort((a, b) => (a.startedAt < b.startedAt ? -1 : 1))
}

/**
 * The logs of the invented plant, one after the other, so that no more than one is held in memory.
 * @param isWanted asked before a log is simulated; all where left out
 */
export function* plantLogs(
  isWanted: (machineId: string, fileName: string) => boolean = () => true,
): Iterable<PlantLog> {
  for (const { machine, startedAt, visit, weekend, change } of plannedVisits()) {
    const fileName = `${machine.id}-${startedAt.slice(0, 10)}.csv`
    if (!isWanted(machine.id, fileName)) continue
    // The oversized pump runs over the weekend and nobody works.
    const duty = weekend ? { ...machine.spec.duty, workless: true } : machine.spec.duty
    const { recording, truth } = simulate({ ...machine.spec, duty }, visit, change ?? undefined)
    yield {
      machineId: machine.id,
      fileName,
      csv: writeCsv(recording, machine.habit, startedAt),
      truth,
    }
  }
}
