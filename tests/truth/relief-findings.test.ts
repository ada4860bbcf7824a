import { describe, expect, it } from 'vitest'
import { fleet } from '@/app/_plant/fleet'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import type { MachineSpec, Visit } from '@/app/_plant/spec'
import { PA_PER_BAR } from '@/lib/units'
import { analyseCsv } from './against-truth'

async function findings(spec: MachineSpec, visit: Visit) {
  const csv = writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-08-17T06:00:00')
  const { reliefFit } = await analyseCsv(csv, 'relief.csv', machineFile(spec))
  return { fit: reliefFit, codes: (reliefFit?.findings ?? []).map(({ code }) => code) }
}

const broach = () => {
  const machine = fleet().find(({ id }) => id === 'broach-1')
  if (!machine) throw new Error('no broach-1')
  return machine.spec
}
const VISIT: Visit = { seed: 21, durationS: 1200, rateHz: 10 }

describe('what the fit says of simulated relief valves', () => {
  it.each([300, 301, 302, 303, 304, 305, 306, 307])(
    'finds no fault in the healthy valve of machine %d',
    async (seed) => {
      const { codes } = await findings(randomMachine(seed, 'c'), VISIT)
      expect(codes).toEqual([])
    },
  )

  it('finds that the worn pilot-operated valve cracks early, and about where', async () => {
    const spec = broach()
    const { fit, codes } = await findings(spec, VISIT)
    expect(codes).toContain('cracks-early')
    const ratio = (fit?.crackingBar.value ?? Number.NaN) / (fit?.settingBar.value ?? Number.NaN)
    expect(Math.abs(ratio - spec.relief.crackRatio)).toBeLessThan(0.06)
  })

  it('finds a leaking seat', async () => {
    const healthy = randomMachine(302, 'c')
    const { ratedM3S, settingPa } = healthy.relief
    const relief = { ...healthy.relief, seatLeak: (0.08 * ratedM3S) / settingPa }
    const { codes } = await findings({ ...healthy, relief }, VISIT)
    expect(codes).toEqual(['leaks-below-cracking'])
  })

  it('finds a setting that has drifted from the plate by a tenth', async () => {
    const healthy = randomMachine(304, 'c')
    const settingPa = healthy.plates.relief.settingBar * 0.88 * PA_PER_BAR
    const { codes } = await findings({ ...healthy, relief: { ...healthy.relief, settingPa } }, VISIT)
    expect(codes).toEqual(['setting-drifted'])
  })
})
