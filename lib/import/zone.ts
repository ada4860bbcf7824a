import { Temporal } from '@js-temporal/polyfill'
import { MS_PER_DAY, MS_PER_HOUR } from './clock'
import { importError } from './fail'
import type { ProblemLog } from './problem-log'

interface Transition {
  readonly instantMs: number
  readonly beforeMs: number
  readonly afterMs: number
}

const NS_PER_MS = 1e6
/** Of a log only the neighbourhood is asked for. */
const LONGEST_LOG_DAYS = 800

function zoned(instantMs: number, zone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.fromEpochMilliseconds(Math.round(instantMs)).toZonedDateTimeISO(zone)
}

function offsetMs(instantMs: number, zone: string): number {
  return zoned(instantMs, zone).offsetNanoseconds / NS_PER_MS
}

/** @throws TankwardError where the zone's name is unknown */
export function checkZone(zone: string): void {
  try {
    zoned(0, zone)
  } catch (cause) {
    if (cause instanceof RangeError) throw importError('time-zone-unknown', { timeZone: zone })
    throw cause
  }
}

/** A local wall-clock time (ms as if it were UTC) as an instant; of a repeated hour the first. */
export function localToInstant(localMs: number, zone: string): number {
  const guess = localMs - offsetMs(localMs - offsetMs(localMs, zone), zone)
  const earlier = localMs - offsetMs(guess - MS_PER_HOUR * 2, zone)
  return earlier + offsetMs(earlier, zone) === localMs ? Math.min(earlier, guess) : guess
}

function transitionsBetween(fromMs: number, toMs: number, zone: string): Transition[] {
  const found: Transition[] = []
  let at = zoned(fromMs, zone)
  for (;;) {
    const next = at.getTimeZoneTransition('next')
    if (next === null || next.epochMilliseconds > toMs || found.length > 64) return found
    const instantMs = next.epochMilliseconds
    found.push({ instantMs, beforeMs: offsetMs(instantMs - 1, zone), afterMs: offsetMs(instantMs, zone) })
    at = next
  }
}

/** A change of the clock whose repeated hour holds all of a log: it may be of its first or its second pass. */
const isWithin = ({ instantMs, beforeMs, afterMs }: Transition, firstMs: number, highestMs: number) =>
  firstMs >= instantMs + afterMs && highestMs < instantMs + beforeMs

/**
 * How far local stamps that rise from one to another lie before their instants, ms, where the clock is not changed
 * between them; null where it is.
 */
export function steadyShift(
  firstMs: number,
  lastMs: number,
  zone: string,
  problems: ProblemLog,
  lineOf: (row: number) => number,
): number | null {
  const first = localToInstant(firstMs, zone)
  const next = transitionsOf(firstMs, firstMs, lastMs, zone).find(({ instantMs }) => instantMs > first)
  if (next && lastMs >= next.instantMs + next.beforeMs) return null
  if (next && isWithin(next, firstMs, lastMs))
    problems.add('assumed-dst', { line: lineOf(0), values: { timeZone: zone } })
  return firstMs - first
}

/** Changes of the clock near a log: a damaged stamp may lie centuries away. */
function transitionsOf(firstMs: number, lowestMs: number, highestMs: number, zone: string): Transition[] {
  const until = Math.min(highestMs, firstMs + MS_PER_DAY * LONGEST_LOG_DAYS) + MS_PER_DAY
  return transitionsBetween(Math.max(lowestMs, firstMs - MS_PER_DAY) - MS_PER_DAY, until, zone)
}

/**
 * Local wall-clock stamps in their raw order as instants, in place. A logger without zone follows the
 * site's: the autumn hour comes twice, the spring hour never. One that shows the spring hour or passes
 * the autumn one only once does not change its clock, and keeps the offset it began with.
 * @param isRising true where no stamp lies before the one above it
 * @returns ms still to be taken off every stamp where they stay as they are, rising between two changes of the clock; else null
 */
export function localToInstants(
  stamps: Float64Array,
  zone: string,
  problems: ProblemLog,
  lineOf: (row: number) => number,
  isRising: boolean,
): number | null {
  if (stamps.length === 0) return null
  const firstLocal = stamps[0]
  if (isRising) {
    const shift = steadyShift(firstLocal, stamps[stamps.length - 1], zone, problems, lineOf)
    if (shift !== null) return shift
  }
  let lowest = firstLocal
  let highest = firstLocal
  for (const stamp of stamps) {
    if (stamp < lowest) lowest = stamp
    if (stamp > highest) highest = stamp
  }
  const first = localToInstant(firstLocal, zone)
  let offset = firstLocal - first
  const transitions = transitionsOf(firstLocal, lowest, highest, zone)
  let next = transitions.findIndex((transition) => transition.instantMs > first)
  const note = (
    code: 'dst-spring-skip' | 'dst-autumn-repeat' | 'clock-ignores-dst' | 'assumed-dst',
    row: number,
  ) => problems.add(code, { line: lineOf(row), values: { timeZone: zone } })
  let previous = firstLocal
  for (let i = 0; i < stamps.length; i++) {
    const local = stamps[i]
    while (next >= 0 && next < transitions.length) {
      const { instantMs, beforeMs, afterMs } = transitions[next]
      const change = afterMs - beforeMs
      if (change > 0) {
        if (local < instantMs + beforeMs) break
        if (local < instantMs + afterMs) {
          note('clock-ignores-dst', i)
          next = -1
          break
        }
        if (local - previous < change * 2) note('dst-spring-skip', i)
        offset = afterMs
      } else {
        const repeated = local - previous < change / 2 && local >= instantMs + afterMs - MS_PER_HOUR
        if (local < instantMs + beforeMs && !repeated) break
        if (!repeated && local - previous < -change * 2) {
          const startedInside = firstLocal >= instantMs + afterMs && firstLocal < instantMs + beforeMs
          note(startedInside ? 'assumed-dst' : 'clock-ignores-dst', i)
          if (!startedInside) {
            next = -1
            break
          }
          for (let k = 0; k < i; k++) stamps[k] += change * -1
        } else if (repeated) note('dst-autumn-repeat', i)
        offset = afterMs
      }
      next++
    }
    previous = local
    stamps[i] = local - offset
  }
  if (next >= 0 && next < transitions.length && isWithin(transitions[next], firstLocal, highest))
    note('assumed-dst', 0)
  return null
}
