import type { Site } from '@/lib/contract/site'
import { WANTED_SHARES } from '@/lib/logging-plan/length'
import { RECOMMENDED, type Wishes } from '@/lib/logging-plan/plan'
import { inOrder, STATION_IDS, type StationId } from '@/lib/logging-plan/stations'
import { shiftsOf } from '@/lib/logging-plan/visits'

/** Shortest phases that may be asked for, s. */
export const SHORTEST_PHASES_S = [0.25, 0.5, 1, 2, 5, 10] as const
export const MOST_SHIFTS = 6
export const MOST_PRODUCTS = 20
const DEFAULT_WANTED = 0.1
const DEFAULT_PHASE_S = 1
const PERCENT = 100

export type Asked = Readonly<Record<string, string | string[] | undefined>>

/** An entry of the address that could not be used. */
export interface Refused {
  readonly entry: string
  readonly expected: string
  readonly actual: string
}

export interface ReadWishes {
  readonly wishes: Wishes
  readonly refused: readonly Refused[]
}

const one = (value: string | string[] | undefined) => (Array.isArray(value) ? value[0] : value)
const isStation = (id: string): id is StationId => STATION_IDS.some((known) => known === id)

/** What the address asks of the plan; what it leaves open, or gets wrong, is as for a first visit. */
export function readWishes(asked: Asked, site: Pick<Site, 'plannedHoursPerYear'>): ReadWishes {
  const refused: Refused[] = []
  const pick = (
    entry: string,
    standard: number,
    allowed: (value: number) => boolean,
    expected: string,
  ): number => {
    const text = one(asked[entry])
    if (text === undefined || text === '') return standard
    const value = Number(text)
    if (allowed(value)) return value
    refused.push({ entry, expected, actual: text })
    return standard
  }
  const among = (entry: string, standard: number, choices: readonly number[]) =>
    pick(entry, standard, (value) => choices.includes(value), `one of ${choices.join(', ')}`)
  const whole = (entry: string, standard: number, most: number) =>
    pick(
      entry,
      standard,
      (value) => Number.isInteger(value) && value >= 1 && value <= most,
      `a whole number from 1 to ${most}`,
    )
  const named = [asked.sensor ?? []].flat()
  for (const id of named) {
    if (!isStation(id)) refused.push({ entry: 'sensor', expected: STATION_IDS.join(', '), actual: id })
  }
  const stations = inOrder(named.filter(isStation))
  const percents = WANTED_SHARES.map((share) => Math.round(share * PERCENT))
  return {
    wishes: {
      stations: stations.length > 0 ? stations : RECOMMENDED,
      wanted: among('within', DEFAULT_WANTED * PERCENT, percents) / PERCENT,
      shortestPhaseS: among('shortest', DEFAULT_PHASE_S, SHORTEST_PHASES_S),
      shifts: whole('shifts', shiftsOf(site.plannedHoursPerYear), MOST_SHIFTS),
      products: whole('products', 1, MOST_PRODUCTS),
    },
    refused,
  }
}
