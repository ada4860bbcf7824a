import { S_PER_HOUR } from '@/lib/units'

export const MS_PER_S = 1000
export const S_PER_MINUTE = S_PER_HOUR / 60
export const MS_PER_MINUTE = S_PER_MINUTE * MS_PER_S
export const MS_PER_HOUR = S_PER_HOUR * MS_PER_S
export const MS_PER_DAY = 24 * MS_PER_HOUR
/** Spreadsheet serial of 1970-01-01. */
export const SERIAL_OF_EPOCH = 25569
/** Nobody stops a recording for most of a year and goes on in the same file. */
export const LONGEST_PAUSE_MS = 300 * MS_PER_DAY
