import { Temporal } from '@js-temporal/polyfill'
import { expect, it } from 'vitest'
import { wallClock } from '@/lib/economics/local-time'

// Reference: the Temporal polyfill asked for every instant, around changes of the clock (IANA time zones).
const ZONES = ['Europe/Berlin', 'America/New_York', 'UTC', 'Asia/Kolkata', 'Australia/Lord_Howe']
const CHANGES = ['2024-03-31T01:00Z', '2024-10-27T01:00Z', '2024-11-03T06:00Z', '2024-10-05T15:30Z']
const AROUND_MS = [-3_600_000, -1, 0, 0.5, 1, 3_600_000]

it('shows what the zone shows around every change of the clock', () => {
  for (const zone of ZONES)
    for (const change of CHANGES)
      for (const off of AROUND_MS) {
        const epochMs = Date.parse(change) + off
        const at = Temporal.Instant.fromEpochMilliseconds(Math.floor(epochMs)).toZonedDateTimeISO(zone)
        const hour = at.hour + (at.minute + (at.second + at.millisecond / 1000) / 60) / 60
        const date = at.toPlainDate().toString()
        expect(wallClock(epochMs, zone), `${zone} ${at}`).toEqual({ date, weekday: at.dayOfWeek, hour })
      }
})
