import type { Ledger } from '@/lib/ledger/ledger'
import type { Doubt } from '@/lib/ledger/propagate'
import type { Step } from '@/lib/phases/stretch'
import { type OtherReading, otherReadingOf } from './recording'

/** Idles from this length on pass for holds where neither a signal nor a person says how long holds last, s (domain rule). */
const SHORT_IDLE_S = 5

/** The steps of a recording with kinds that are as possible as those taken. */
interface OtherSteps {
  readonly source: Doubt['source']
  readonly steps: readonly Step[]
  readonly reading: OtherReading
}

function made(ledger: Ledger): OtherSteps[] {
  const { segmentation, plate } = ledger
  const { steps } = segmentation
  const readings = segmentation.otherReadings()
  const isOpen = (k: number) => readings.some((reading) => reading.steps[k].kind !== steps[k].kind)
  const others: { source: Doubt['source']; of: readonly Step[] }[] = readings.map(({ doubt, steps: of }) => ({
    source: doubt,
    of,
  }))
  if (plate.longestHoldS === undefined) {
    const shorter = segmentation.stepsWithLongestHold(SHORT_IDLE_S)
    // What is in doubt by itself is not doubted twice.
    others.push({ source: 'short-idles', of: shorter.map((step, k) => (isOpen(k) ? steps[k] : step)) })
  }
  return others.flatMap(({ source, of }) => {
    if (of.every(({ kind }, k) => kind === steps[k].kind)) return []
    const fit = source === 'worn-pump-or-feed' ? ledger.fitTo(of) : {}
    const other = { ...ledger, ...fit, segmentation: { ...segmentation, steps: of } }
    return [{ source, steps: of, reading: otherReadingOf(other) }]
  })
}

const known = new WeakMap<Ledger, OtherSteps[]>()

/**
 * What saved shares owe to stretches of which length, pressure or a return meter alone tells what they are: a hold or a
 * short idle, a feed or a valve's wait, a load or an early relief, a feed or a worn pump's whole flow. The same changes on
 * the log as it may as well be read, with the models as fitted to the reading taken but for a worn pump, whose wear hangs
 * on it. Nothing where signals, other meters or a person tell.
 * @param taken the saved shares on the log as it is read
 * @param shares the saved shares on the log with other kinds of steps
 */
export function kindDoubts(
  ledger: Ledger,
  taken: Float64Array,
  shares: (reading: OtherReading, steps: readonly Step[]) => Float64Array,
): readonly Doubt[] {
  const others = known.get(ledger) ?? made(ledger)
  known.set(ledger, others)
  return others.map(({ source, steps, reading }): Doubt => {
    const change = shares(reading, steps).map((share, k) => share - taken[k])
    return { source, change }
  })
}
