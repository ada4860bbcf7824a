import type { TimeUnit } from '@/lib/contract/reading'
import { reportUnused } from './answer-not-used'
import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MINUTE, MS_PER_S, SERIAL_OF_EPOCH } from './clock'
import type { ProblemLog } from './problem-log'

export interface NumericTime {
  /** `instant`: epoch; `local`: wall clock of the site; `elapsed`: since a start not in the column. */
  readonly kind: 'instant' | 'local' | 'elapsed'
  readonly format: string
  readonly stampsMs: Float64Array
}

const UNIT_MS: readonly (readonly [RegExp, number])[] = [
  [/^(?:ms|msec)$/i, 1],
  [/^(?:us|µs)$/i, 1 / MS_PER_S],
  [/^(?:min|mins|minutes?)$/i, MS_PER_MINUTE],
  [/^(?:h|hr|hrs|hours?)$/i, MS_PER_HOUR],
  [/^(?:d|days?)$/i, MS_PER_DAY],
  [/^(?:s|sec|secs|sek|seconds?|sekunden?)$/i, MS_PER_S],
]

const unitMs = (text: string | undefined): number | undefined =>
  UNIT_MS.find(([words]) => words.test(text ?? ''))?.[1]

/** Counts since an epoch, in the units loggers use: ms a count, and the epoch. From 1904 some measuring programs count (from memory). */
const EPOCHS: readonly (readonly [string, number, number])[] = [
  ['epoch-s', MS_PER_S, 0],
  ['epoch-ms', 1, 0],
  ['epoch-us', 1 / MS_PER_S, 0],
  ['epoch-ns', 1 / (MS_PER_S * MS_PER_S), 0],
  ['epoch-1904-s', MS_PER_S, Date.UTC(1904, 0, 1)],
]
/** Dates that a log can have. */
const EPOCH_LOW = Date.UTC(1990, 0, 1)
const EPOCH_HIGH = Date.UTC(2066, 0, 1)
const SERIAL_LOW = 30_000
const SERIAL_HIGH = 80_000
const LONGEST_STEP_DAYS = 0.005
/** A log with a row every 20 s says little of a hydraulic cycle; such counts are milliseconds. */
const LONGEST_STEP_S = 20

/** Whichever way the rows run. */
function typicalStep(values: Float64Array): number {
  const steps: number[] = []
  for (let i = 1; i < values.length && steps.length < 2000; i++) {
    const step = Math.abs(values[i] - values[i - 1])
    if (step > 0) steps.push(step)
  }
  steps.sort((a, b) => a - b)
  return steps[steps.length >> 1] ?? Number.NaN
}

/** In place. */
function scaled(values: Float64Array, factor: number): Float64Array {
  for (let i = 0; i < values.length; i++) values[i] *= factor
  return values
}

/** A numeric time column as milliseconds, its meaning told from its unit, its size and its step. */
export function settleNumericTime(
  values: Float64Array,
  unitText: string | null,
  place: { column: string; line: number },
  problems: ProblemLog,
  answer?: TimeUnit,
): NumericTime {
  const middle = values[values.length >> 1]
  const named = unitMs(unitText ?? undefined)
  for (const [format, factor, epochMs] of EPOCHS) {
    // A count in ms of three weeks looks like one in s since 1970.
    if (named !== undefined && named !== factor) continue
    const ms = middle * factor + epochMs
    if (ms <= EPOCH_LOW || ms >= EPOCH_HIGH) continue
    const stampsMs = scaled(values, factor)
    for (let i = 0; i < stampsMs.length && epochMs !== 0; i++) stampsMs[i] += epochMs
    return { kind: 'instant', format, stampsMs }
  }
  const step = typicalStep(values)
  if (unitText === null && values[0] > SERIAL_LOW && middle < SERIAL_HIGH && !(step > LONGEST_STEP_DAYS)) {
    // Binary fractions of a day: the microsecond is noise, the millisecond what was meant.
    const ms = values.map((value) => Math.round((value - SERIAL_OF_EPOCH) * MS_PER_DAY))
    return { kind: 'local', format: 'serial', stampsMs: ms }
  }
  const unit = named
  const answered = unitMs(answer)
  if (unit !== undefined && answered !== unit) reportUnused(problems, 'timeUnit', answer, unitText)
  const known = unit ?? answered
  if (known !== undefined) return { kind: 'elapsed', format: 'elapsed', stampsMs: scaled(values, known) }
  const counts = step >= LONGEST_STEP_S
  problems.add('assumed-time-unit', {
    ...place,
    values: {
      assumed: counts ? 'ms' : 's',
      other: counts ? 's' : 'ms',
      step: Number.isNaN(step) ? null : step,
    },
  })
  return { kind: 'elapsed', format: 'elapsed', stampsMs: scaled(values, counts ? 1 : MS_PER_S) }
}
