import { MS_PER_MINUTE } from './clock'
import type { Strided } from './growable'
import { type EvenStamps, GrowingTimes } from './growing-times'
import { newStamp, readStamp, readTimeOfDay, type Stamp } from './stamp'
import type { TimeForm } from './time-forms'

/** What the whole column of stamps says of the order of day and month. */
export interface OrderVotes {
  dayFirst: number
  monthFirst: number
  open: number
}

/** What a stamp's date and zone say, whichever the time of day. */
export type DayReading = Readonly<
  Pick<Stamp, 'date' | 'dayFirstMs' | 'monthFirstMs' | 'zoneMinutes' | 'twelveHour'>
>

export interface StampReading {
  readonly day: DayReading
  /** Ms since midnight. */
  readonly timeMs: number
}

/** Stamps as read, both readings kept until the whole column has been seen. */
export class StampColumn {
  readonly votes: OrderVotes = { dayFirst: 0, monthFirst: 0, open: 0 }
  dated = 0
  zoned = 0
  hourLost = 0
  twelveHour = 0
  dotted = false
  private readonly dayFirst = new GrowingTimes()
  /** Null for as long as no date reads two ways. */
  private monthFirst: GrowingTimes | null = null
  private readonly stamp = newStamp()
  private readonly other = newStamp()
  /** Which of the two had the date. */
  private dateOf = this.stamp
  private pendingDay = Number.NaN
  private pendingMonth = Number.NaN

  constructor(private readonly form: TimeForm | null) {}

  /** Reads a row's cells; false where they give no time. Nothing is stored until `keep`. */
  read(cell: string, dateCell: string | null, msCell: string | null): boolean {
    const stamp = this.stamp
    const text = cell.trim()
    if (text === '' || !this.readCell(text)) return false
    let date = stamp
    if (dateCell !== null) {
      const dateText = dateCell.trim()
      if (dateText === '' || !readStamp(dateText, this.other) || this.other.date === 'none') return false
      date = this.other
      if (!stamp.hasTime) return false
    }
    if (msCell !== null) {
      if (!/^\s*\d{1,3}\s*$/.test(msCell)) return false
      stamp.timeMs += Number(msCell)
    }
    this.dateOf = date
    if (date.date === 'none') {
      this.pendingDay = stamp.timeMs
      this.pendingMonth = stamp.timeMs
    } else {
      const zone = Number.isNaN(stamp.zoneMinutes) ? 0 : stamp.zoneMinutes * MS_PER_MINUTE
      this.pendingDay = date.dayFirstMs + stamp.timeMs - zone
      this.pendingMonth = date.monthFirstMs + stamp.timeMs - zone
    }
    return true
  }

  /** The cells last read, date and time apart; null where rows alike could not be told by their seconds. */
  get reading(): StampReading | null {
    const { stamp, dateOf } = this
    if (this.form !== null || stamp.hourLost || (dateOf !== stamp && stamp.date !== 'none')) return null
    const { date, dayFirstMs, monthFirstMs } = dateOf
    const { zoneMinutes, twelveHour, timeMs } = stamp
    return { day: { date, dayFirstMs, monthFirstMs, zoneMinutes, twelveHour }, timeMs }
  }

  /** True where `keep` looks at the text of such a stamp, to see how its date is written. */
  wantsText({ date, dayFirstMs, monthFirstMs }: DayReading): boolean {
    if (date !== 'either') return false
    const seen = this.votes.open + this.votes.dayFirst
    const countsAsSeen = !Number.isNaN(dayFirstMs) && dayFirstMs !== monthFirstMs
    return seen === 1 || (seen === 0 && countsAsSeen)
  }

  private readCell(text: string): boolean {
    return this.form === null ? readStamp(text, this.stamp) : readTimeOfDay(text, this.form, this.stamp)
  }

  keep(dateCell: string): void {
    const stamp = this.stamp
    if (stamp.hourLost) this.hourLost++
    if (stamp.twelveHour) this.twelveHour++
    if (!Number.isNaN(stamp.zoneMinutes)) this.zoned++
    const day = this.pendingDay
    const month = this.pendingMonth
    const date = stamp.date !== 'none' ? stamp.date : this.other.date
    if (date !== 'none') this.dated++
    if (date === 'either') {
      if (Number.isNaN(month)) this.votes.dayFirst++
      else if (Number.isNaN(day)) this.votes.monthFirst++
      else if (day !== month) this.votes.open++
      if (this.votes.open + this.votes.dayFirst === 1) this.dotted = /\d\.\d+\.\d/.test(dateCell)
    }
    if (!Object.is(day, month)) this.monthFirst ??= this.dayFirst.copy()
    this.dayFirst.push(day)
    this.monthFirst?.push(month)
  }

  /** As `read` and `keep` of `count` cells with this date, none of which wants its text; ms since midnight in a strided table. */
  keepPlain(day: DayReading, timesMs: Strided, count: number): void {
    const { date, dayFirstMs, monthFirstMs } = day
    if (!Number.isNaN(day.zoneMinutes)) this.zoned += count
    if (day.twelveHour) this.twelveHour += count
    if (date === 'none') {
      this.dayFirst.pushEvery(timesMs, count)
      this.monthFirst?.pushEvery(timesMs, count)
      return
    }
    const zoneMs = Number.isNaN(day.zoneMinutes) ? 0 : day.zoneMinutes * MS_PER_MINUTE
    this.dated += count
    if (date === 'either') {
      if (Number.isNaN(monthFirstMs)) this.votes.dayFirst += count
      else if (Number.isNaN(dayFirstMs)) this.votes.monthFirst += count
      else if (dayFirstMs !== monthFirstMs) this.votes.open += count
    }
    if (!Object.is(dayFirstMs, monthFirstMs)) this.monthFirst ??= this.dayFirst.copy()
    this.dayFirst.pushEvery(timesMs, count, dayFirstMs - zoneMs)
    this.monthFirst?.pushEvery(timesMs, count, monthFirstMs - zoneMs)
  }

  /** Dated stamps that leave nothing open, all with a zone or none, where they are even; null otherwise. */
  get even(): EvenStamps | null {
    const { dayFirst, monthFirst, votes, dated, zoned, hourLost } = this
    const { even } = dayFirst
    if (even === null || monthFirst !== null || votes.dayFirst + votes.monthFirst + votes.open > 0)
      return null
    const isWhole = dated === even.length && hourLost === 0 && (zoned === 0 || zoned === even.length)
    return isWhole ? even : null
  }

  /** Both readings, in one array where no date has two. */
  take(): { dayFirst: Float64Array; monthFirst: Float64Array } {
    const dayFirst = this.dayFirst.take()
    return { dayFirst, monthFirst: this.monthFirst?.take() ?? dayFirst }
  }
}
