import { MS_PER_MINUTE } from './clock'
import { GrowableFloat64 } from './growable'
import { newStamp, readStamp, readTimeOfDay } from './stamp'
import type { TimeForm } from './time-forms'

/** What the whole column of stamps says of the order of day and month. */
export interface OrderVotes {
  dayFirst: number
  monthFirst: number
  open: number
}

/** Stamps as read, both readings kept until the whole column has been seen. */
export class StampColumn {
  readonly votes: OrderVotes = { dayFirst: 0, monthFirst: 0, open: 0 }
  dated = 0
  zoned = 0
  hourLost = 0
  twelveHour = 0
  dotted = false
  private readonly dayFirst = new GrowableFloat64()
  private readonly monthFirst = new GrowableFloat64()
  private readonly stamp = newStamp()
  private readonly other = newStamp()
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
    this.dayFirst.push(day)
    this.monthFirst.push(month)
  }

  take(): { dayFirst: Float64Array; monthFirst: Float64Array } {
    return { dayFirst: this.dayFirst.take(), monthFirst: this.monthFirst.take() }
  }
}
