import { expect, it } from 'vitest'
import { localToInstant } from '@/lib/import/zone'
import { problem, readText, startOf } from './log-text'

const at = (text: string): number => Date.parse(`${text}Z`)

// Independent reference: the runtime's own Intl tables, read back from the instant.
function wallClock(instantMs: number, timeZone: string): string {
  return new Intl.DateTimeFormat('sv-SE', { timeZone, dateStyle: 'short', timeStyle: 'medium' }).format(
    instantMs,
  )
}

it.each(['Europe/Vienna', 'America/Chicago', 'Asia/Kolkata', 'Australia/Lord_Howe', 'Pacific/Apia', 'UTC'])(
  'local times of %s are those its clocks show',
  (zone) => {
    for (let day = 0; day < 365; day += 3) {
      const local = Date.UTC(2026, 0, 1 + day, 13, 5)
      const instant = localToInstant(local, zone)
      expect(wallClock(instant, zone)).toBe(new Date(local).toISOString().slice(0, 19).replace('T', ' '))
    }
  },
)

it('takes the first of a repeated hour', () => {
  // Europe: 25 October 2026, 03:00 CEST → 02:00 CET.
  expect(localToInstant(at('2026-10-25T02:30:00'), 'Europe/Vienna')).toBe(at('2026-10-25T00:30:00'))
  expect(localToInstant(at('2026-10-25T03:30:00'), 'Europe/Vienna')).toBe(at('2026-10-25T02:30:00'))
})

const body = 'P pump [bar],I [A]\n2026-03-02T06:00:00,100,20\n2026-03-02T06:00:01,101,20\n'
it.each([
  [`Time (UTC),${body}`, '2026-03-02T06:00:00.000Z'],
  [`Time [UTC+1],${body}`, '2026-03-02T05:00:00.000Z'],
  [`Time zone: America/New_York\n\nTime,${body}`, '2026-03-02T11:00:00.000Z'],
  [`Time,${body}`, '2026-03-02T05:00:00.000Z'],
])('the file’s own zone goes before the site’s', async (text, start) => {
  const log = await readText(text, { timeZone: 'Europe/Vienna' })
  expect(startOf(log)).toBe(start)
  expect(problem(log, 'row-rejected-time')).toBeUndefined()
})
