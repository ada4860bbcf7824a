import { describe, expect, it } from 'vitest'
import type { PhaseKind } from '@/lib/contract/result'
import { ACCOUNT_KEYS } from '@/lib/ledger/account-series'
import { edgeCovariance } from '@/lib/ledger/edges'
import type { Streams } from '@/lib/ledger/operating-point'
import { kindIndex } from '@/lib/ledger/totals'
import { meansBy, type Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'

const BAR = 100_000
const METER = { values: new Float64Array(0), limit: 0 }
const RETURN_METER = { returnFlow: METER, pumpFlow: null, systemFlow: null } as unknown as Sensors
const NO_METER = { returnFlow: null, pumpFlow: null, systemFlow: null } as unknown as Sensors

const step = (kind: PhaseKind, bar: number, durationS: number): Step => ({
  kind,
  from: 0,
  to: 1,
  durationS,
  afterGap: false,
  peakLoadPa: Number.NaN,
  means: meansBy((name) => (name === 'pumpPressurePa' ? bar * BAR : Number.NaN)),
})

/** Idle over the relief at 100 bar with 2 kW, 5 kW in; then a stroke at 40 bar with nothing over the relief, 3 kW in. */
const STEPS = [step('idle-loaded', 100, 10), step('work-moving', 40, 20)]
const POWERS: readonly Partial<Streams>[] = [
  { electricIn: 5000, overRelief: 2000 },
  { electricIn: 3000, intoSystem: 1500 },
]
const energies = Float64Array.from(
  STEPS.flatMap(({ durationS }, k) => ACCOUNT_KEYS.map((key) => (POWERS[k][key] ?? 0) * durationS)),
)

/** Standard deviation of a stream over all kinds, J. */
function sdOf(key: keyof Streams, sensors: Sensors, intervalS: number): number {
  const covariance = edgeCovariance(STEPS, energies, intervalS, sensors)
  const places = STEPS.map(({ kind }) => kindIndex(kind, key))
  return Math.sqrt(places.flatMap((a) => places.map((b) => covariance.get(a, b))).reduce((x, y) => x + y))
}

describe('what edges leave open', () => {
  it('electric input: a sample holds for an interval too long, and the meter is late by the step of 2 kW', () => {
    // 0.29 of a 2 s interval and a lag of 0.04 s, each times 2 kW.
    expect(sdOf('electricIn', RETURN_METER, 2)).toBeCloseTo(Math.hypot(0.29 * 2 * 2000, 0.04 * 2000), 6)
  })

  it('a meter in the return: late, it meets the new pressure with the flow from before', () => {
    // 2 kW at 100 bar are 0.8 kW at 40 bar.
    expect(sdOf('overRelief', RETURN_METER, 2)).toBeCloseTo(Math.hypot(0.29 * 2 * 2000, 0.04 * 800), 6)
  })

  it('without a meter the kind of step says what passes the relief, and an edge in the wrong place moves it', () => {
    expect(sdOf('overRelief', NO_METER, 2)).toBeCloseTo(Math.hypot(0.29 * 2 * 2000, 0.05 * 2000), 6)
  })

  it('between kinds energy moves whether metered or not', () => {
    const covariance = edgeCovariance(STEPS, energies, 0, RETURN_METER)
    const idle = kindIndex('idle-loaded', 'electricIn')
    expect(Math.sqrt(covariance.get(idle, idle))).toBeCloseTo(0.05 * 4000, 6)
  })

  it('a lag is the same at every edge: forth and back it cancels', () => {
    const there = [...STEPS, { ...STEPS[0], kind: 'idle-unloaded' as const }]
    const covariance = edgeCovariance(
      there,
      Float64Array.from([...energies, ...energies.subarray(0, ACCOUNT_KEYS.length)]),
      0,
      RETURN_METER,
    )
    const places = there.map(({ kind }) => kindIndex(kind, 'electricIn'))
    const variance = places.flatMap((a) => places.map((b) => covariance.get(a, b))).reduce((x, y) => x + y)
    expect(variance).toBeCloseTo(0, 6)
  })
})
