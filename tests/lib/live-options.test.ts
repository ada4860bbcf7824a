import { describe, expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import { liveOptions } from '@/lib/live-options'
import { sampleBytes, sampleMachine } from '../app/sample-files'

const NAME = 'press-all-sensors'
const machine = sampleMachine(NAME)
const site = siteSchema.parse({
  timeZone: 'Europe/Vienna',
  cooling: { electricPerHeat: 0.3 },
  tariff: { demand: { pricePerKWMonth: 8, windowMinutes: 1 } },
})

async function* file() {
  yield new Uint8Array(sampleBytes(`${NAME}.csv`))
}
const log = await readLog(file(), { fileName: NAME, machine, timeZone: site.timeZone })
const { analysis } = analyse(log, machine, site)
const live = liveOptions(log.trace, machine, site, [])

describe('an option asked for by itself', () => {
  it('answers as the analysis does where nothing is moved, for every option', () => {
    for (const row of analysis.options) {
      const { row: alone } = live(row.id, {})
      // Points are cut at the ages of all options in an analysis, and at its own here.
      expect(alone.savedShare?.value ?? 0, row.id).toBeCloseTo(row.savedShare?.value ?? 0, 3)
      expect(alone.netPresentValue?.value ?? 0, row.id).toBeCloseTo(row.netPresentValue?.value ?? 0, -2)
      expect(alone.savedDemandCostPerYear?.value ?? 0).toBeCloseTo(row.savedDemandCostPerYear?.value ?? 0, -1)
      const { feasible, judged, reasons, settings, cautions, toConfirm } = row
      expect(alone).toMatchObject({ feasible, judged, reasons, settings, cautions, toConfirm, tornado: null })
    }
  })

  it('tells how far each setting may be moved, and takes both ends', () => {
    let tried = 0
    for (const { id, settings } of analysis.options) {
      for (const [setting, [low, high]] of Object.entries(live(id, {}).ranges)) {
        expect(Object.keys(settings)).toContain(setting)
        const codes = [low, high].flatMap((value) =>
          live(id, { [setting]: value }).row.reasons.map(({ code }) => code),
        )
        expect(codes, `${id} ${setting}`).not.toContain('setting-out-of-range')
        const beyond = live(id, { [setting]: high + 0.01 * (high - low) }).row
        expect(
          beyond.reasons.map(({ code }) => code),
          `${id} ${setting}`,
        ).toEqual(['setting-out-of-range'])
        tried += 1
      }
    }
    expect(tried).toBeGreaterThan(8)
  })

  it('has no range for what follows from the machine or the tables', () => {
    expect(live('efficient-motor', {}).ranges).toEqual({})
    expect(Object.keys(live('second-relief-setting', {}).ranges)).toEqual(['lowSettingBar'])
  })
})
