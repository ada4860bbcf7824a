import { existsSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import { inFull } from '@/lib/samples/samples'
import { wholeAccount } from '../invented/whole-account'

/**
 * "Condition monitoring of hydraulic systems", UCI Machine Learning Repository no. 447 (doi
 * 10.24432/C5CW21), Helwig, Pignanelli, Schütze, CC BY 4.0: a rig that repeats a 60 s load cycle, 1 s means;
 * ten cycles with the pump in order, ten with severe internal leakage. Energies a cycle computed from the set.
 */
const file = (name: string) =>
  new URL(`../../../shared/data/test-rig/${name}_10cycles_1hz.csv`, import.meta.url)
const here = existsSync(file('healthy')) && existsSync(file('leak2'))
const title = (name: string) => (here ? name : `skipped: data not here (${name})`)

/** Nobody states the rig's nameplates: plausible ones for 2.95 kW at 191 bar and 8 L/min. */
const RIG: Machine = machineSchema.parse({
  version: 1,
  name: 'Test rig',
  motor: {
    ratedPowerKW: 3,
    ratedVoltageV: 400,
    ratedCurrentA: 6,
    ratedPowerFactor: 0.81,
    ratedEfficiency: 0.886,
    ratedSpeedRpm: 1445,
    poles: 4,
    frequencyHz: 50,
  },
  pump: {
    kind: 'fixed',
    displacementCm3: 6,
    ratedPressureBar: 190,
    ratedSpeedRpm: 1450,
    volumetricEfficiency: 0.92,
    overallEfficiency: 0.86,
  },
  relief: { kind: 'direct-acting', settingBar: 191, ratedFlowLpm: 8 },
  unloading: { kind: 'none' },
  channels: [
    { column: 'PS1_bar', quantity: 'pressure', location: 'pump-outlet', unit: 'bar' },
    { column: 'PS2_bar', quantity: 'pressure', location: 'load', unit: 'bar' },
    { column: 'FS1_L_min', quantity: 'flow', location: 'system-line', unit: 'L/min' },
    { column: 'EPS1_W', quantity: 'power', location: 'motor-supply', unit: 'W' },
  ],
})

async function analyseRig(name: 'healthy' | 'leak2', machine = RIG) {
  async function* bytes() {
    yield new Uint8Array(readFileSync(file(name)))
  }
  const log = await readLog(bytes(), { fileName: `${name}.csv`, machine, timeZone: 'UTC' })
  return { log, ...analyse(log, machine, siteSchema.parse({})) }
}

const kept = new Map<string, ReturnType<typeof analyseRig>>()
/** Each log is analysed once for all checks. */
function analysed(name: 'healthy' | 'leak2') {
  const found = kept.get(name) ?? analyseRig(name)
  kept.set(name, found)
  return found
}

const CYCLES = 10
const PUBLISHED_WH = { healthy: [42.23, 29.067, 23.9], leak2: [42.945, 27.767, 22.826] } as const

describe.each(['healthy', 'leak2'] as const)('%s pump', (name) => {
  it.runIf(here)(title('the file is read whole: 600 rows of one second'), async () => {
    const { analysis, log } = await analysed(name)
    expect(analysis.log.rowsRead).toBe(600)
    expect(analysis.log.rowsUsed).toBe(600)
    expect(analysis.log.sampleIntervalS).toBe(1)
    expect(analysis.log.gaps).toEqual([])
    expect(log.trace.channels.map(({ column }) => column)).toEqual([
      'PS1_bar',
      'PS2_bar',
      'FS1_L_min',
      'EPS1_W',
    ])
  })

  it.runIf(here)(
    title('electric energy of a cycle within 1 %, hydraulic and load energy within 2 %'),
    async () => {
      const { ledgerKWh } = (await analysed(name)).analysis
      const perCycleWh = (kWh: number | undefined) => ((kWh ?? Number.NaN) * 1000) / CYCLES
      const [electric, hydraulic, load] = PUBLISHED_WH[name]
      expect(perCycleWh(ledgerKWh.electricIn.value) / electric).toBeCloseTo(1, 2)
      // What goes into the system at pump pressure, and at the load valve's outlet: PS1·FS1 and PS2·FS1.
      expect(Math.abs(perCycleWh(ledgerKWh.intoSystem.value) / hydraulic - 1)).toBeLessThan(0.02)
      expect(Math.abs(perCycleWh(ledgerKWh.work?.value) / load - 1)).toBeLessThan(0.02)
    },
  )

  it.runIf(here)(
    title('seconds 1 to 8 of every cycle go over the relief, at the highest power'),
    async () => {
      const { analysis, account, log } = await analysed(name)
      const series = wholeAccount(account)
      for (let cycle = 0; cycle < CYCLES; cycle++) {
        for (let second = 1; second <= 8; second++) {
          const at = 60 * cycle + second
          const phase = analysis.phases.find(({ startS, endS }) => startS <= at && at < endS)
          expect(phase?.kind, `second ${at}`).toBe('idle-loaded')
          expect(series.overRelief[at] / series.electricIn[at]).toBeGreaterThan(0.6)
        }
      }
      // About 6.43 Wh of electricity a cycle (mean of all cycles), 15.5 % of it; here of these ten.
      let electricWh = 0
      let allWh = 0
      const holdS = inFull(log.trace.holdS)
      for (let i = 0; i < holdS.length; i++) {
        const wh = (series.electricIn[i] * holdS[i]) / 3600
        allWh += wh
        if (i % 60 >= 1 && i % 60 <= 8) electricWh += wh
      }
      expect(electricWh / CYCLES).toBeGreaterThan(6.3)
      expect(electricWh / CYCLES).toBeLessThan(6.8)
      expect(electricWh / allWh).toBeCloseTo(0.155, 2)
    },
  )

  it.runIf(here)(title('the rig repeats every 60 s: nine or ten cycles'), async () => {
    const { cycles } = (await analysed(name)).analysis
    expect(cycles.count).toBeGreaterThanOrEqual(8)
    expect(cycles.count).toBeLessThanOrEqual(10)
    expect(cycles.meanS).toBeCloseTo(60, 0)
    expect(((cycles.kWhPerCycle?.value ?? 0) * 1000) / PUBLISHED_WH[name][0]).toBeCloseTo(1, 2)
    expect(cycles.kWhPerCycle?.basis).toBe('measured')
  })

  it.runIf(here)(title('the account closes in every second'), async () => {
    const series = wholeAccount((await analysed(name)).account)
    for (let i = 0; i < series.electricIn.length; i++) {
      const parts =
        series.motorLoss[i] +
        series.pumpLoss[i] +
        series.overRelief[i] +
        series.unloading[i] +
        series.intoSystem[i] +
        series.unaccounted[i]
      expect(Math.abs(parts - series.electricIn[i])).toBeLessThan(1e-8)
    }
  })

  it.runIf(here)(title('PS2·FS1 over EPS1 is the set’s own efficiency away from steps'), async () => {
    const { log, account } = await analysed(name)
    const series = wholeAccount(account)
    const rows = readFileSync(file(name), 'utf8').trim().split('\n').slice(1)
    const own = rows.map((row) => Number(row.split(',')[6]))
    // SE lags one second: leave out t < 12 and each step's second.
    const steps = new Set([19, 20, 29, 30, 39, 40, 49, 50])
    for (let i = 0; i < log.trace.timeS.length; i++) {
      const second = i % 60
      if (second < 12 || steps.has(second)) continue
      expect(Math.abs((100 * series.work[i]) / series.electricIn[i] - own[i])).toBeLessThan(1)
    }
  })
})

describe('the two logs compared', () => {
  it.runIf(here)(title('the leaking rig takes more electricity for less hydraulic energy'), async () => {
    const healthy = (await analysed('healthy')).analysis.ledgerKWh
    const leaking = (await analysed('leak2')).analysis.ledgerKWh
    expect(leaking.electricIn.value).toBeGreaterThan(healthy.electricIn.value)
    expect(leaking.intoSystem.value).toBeLessThan(healthy.intoSystem.value)
    expect(leaking.work?.value).toBeLessThan(healthy.work?.value ?? 0)
    expect(leaking.electricIn.value / healthy.electricIn.value).toBeCloseTo(42.945 / 42.23, 2)
  })
})

/**
 * The rig's flow in order (7.9 L/min at 147 bar, 7.8 at 166: of 8.7 swept) as nameplate: what the pump gave when it
 * was new. Both logs lose flow in proportion to pressure and none in the line of a valve that opens, so the relief
 * is taken for one that holds to nearly its setting.
 */
const AS_NEW: Machine = machineSchema.parse({
  ...RIG,
  pump: { ...RIG.pump, volumetricEfficiency: 0.88, overallEfficiency: 0.82 },
  relief: { ...RIG.relief, kind: 'pilot-operated' },
})

describe('the leaking pump against the pump in order', () => {
  it.runIf(here)(
    title('with the plate as declared, too: flow lost in proportion to pressure is no metering'),
    async () => {
      const of = async (name: 'healthy' | 'leak2') => (await analysed(name)).analysis
      const [sound, leaking] = [await of('healthy'), await of('leak2')]
      for (const analysis of [sound, leaking]) {
        const metering = analysis.phases.filter(({ kind }) => kind === 'work-metering')
        const meteringS = metering.reduce((sum, { startS, endS }) => sum + endS - startS, 0)
        expect(meteringS).toBeLessThanOrEqual(4 * CYCLES)
      }
      leaking.pumpHealth.volumetricEfficiency.forEach(({ seen }, k) => {
        const inOrder = sound.pumpHealth.volumetricEfficiency[k].seen
        expect(seen.value).toBeLessThan(inOrder.low)
        expect(seen.value / inOrder.value).toBeLessThan(0.96)
      })
    },
  )

  const seenOf = async (name: 'healthy' | 'leak2') =>
    (await analyseRig(name, AS_NEW)).analysis.pumpHealth.volumetricEfficiency

  it.runIf(here)(
    title('the leaking pump’s whole interval lies below what the pump gave in order'),
    async () => {
      for (const { seen, nameplate } of await seenOf('leak2')) {
        expect(seen.high).toBeLessThan(nameplate)
        expect(seen.value / nameplate).toBeLessThan(0.96)
      }
    },
  )

  it.runIf(here)(title('the pump in order is seen as it is, and nothing is reported'), async () => {
    const { analysis } = await analyseRig('healthy', AS_NEW)
    for (const { seen, nameplate } of analysis.pumpHealth.volumetricEfficiency) {
      expect(seen.low).toBeLessThan(nameplate)
      expect(seen.high).toBeGreaterThan(nameplate)
    }
    expect(analysis.findings).toEqual([])
  })
})
