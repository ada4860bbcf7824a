import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { machineSchema } from '@/lib/contract/machine'
import { readBytes, startOf } from './log-text'

const data = new URL('../../../../shared/data/', import.meta.url)
const here = existsSync(fileURLToPath(data))
const bytes = (name: string): Uint8Array => readFileSync(fileURLToPath(new URL(name, data)))
const title = (name: string): string => (here ? name : `${name} (skipped: data not here)`)

describe.skipIf(!here)(title('files read in full'), () => {
  // Row counts are those of the files; the start is their first stamp in the zone given.
  it.each([
    ['known-truth/indexing-three-sensors', 4706, 3],
    ['known-truth/stamping-all-sensors', 6370, 5],
  ])('%s', async (name, rows, channels) => {
    const machine = machineSchema.parse(JSON.parse(new TextDecoder().decode(bytes(`${name}.machine.json`))))
    for (const given of [machine, null]) {
      const log = await readBytes(bytes(`${name}.csv`), {
        machine: given,
        timeZone: 'Europe/Vienna',
        chunk: 65_536,
      })
      expect(log.report).toMatchObject({
        rowsRead: rows,
        rowsUsed: rows,
        rowsRejected: 0,
        problems: [],
        unusedColumns: [],
      })
      expect(log.report.channels).toEqual(machine.channels)
      expect(log.report.channels).toHaveLength(channels)
      expect(startOf(log)).toBe('2026-03-02T05:00:00.000Z')
      expect(log.trace.sampleIntervalS).toBe(0.1)
    }
  })
  it.each([
    ['healthy_10cycles_1hz', 600, ['cycle_row', 'SE_pct']],
    ['leak2_10cycles_1hz', 600, ['cycle_row', 'SE_pct']],
    ['mean_cycle_1hz', 60, ['SE_pct']],
  ])('test-rig/%s (UCI 447, CC BY 4.0)', async (name, rows, unused) => {
    const log = await readBytes(bytes(`test-rig/${name}.csv`))
    expect(log.report).toMatchObject({
      rowsRead: rows,
      rowsUsed: rows,
      rowsRejected: 0,
      unusedColumns: unused,
    })
    expect(log.trace.channels.map((c) => `${c.column} ${c.quantity} ${c.location} ${c.unit}`)).toEqual([
      'PS1_bar pressure pump-outlet bar',
      'PS2_bar pressure load bar',
      'FS1_L_min flow system-line L/min',
      'EPS1_W power motor-supply W',
    ])
    expect(log.trace.startedAtMs).toBeNull()
  })
})
