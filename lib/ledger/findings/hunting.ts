import type { Finding, PhaseKind } from '@/lib/contract/result'
import { reliefSlope } from '@/lib/machine/relief'
import { noiseSd } from '@/lib/numeric/noise'
import { readerOf } from '@/lib/samples/samples'
import { J_PER_KWH, PA_PER_BAR } from '@/lib/units'
import type { Ledger } from '../ledger'
import { type PressureSwing, strongestSwing, windowsOf } from '../pressure-swing'
import type { ReliefLine } from '../relief-fit'
import { meterPerHydraulic, type YearCost } from './finding'

/** A log slower than this shows no swing of a valve. */
const LEAST_RATE_HZ = 5
/**
 * A relief hunts where the pressure swings by more than this share of its setting either way, at one frequency
 * that holds most of the swing, and well beyond what it does with the relief shut (common practice, no source).
 */
const LEAST_SWING_SHARE = 0.01
const LEAST_REGULAR_SHARE = 0.5
const BEYOND_SHUT = 3
const LEAST_WINDOWS = 2

const OPEN: ReadonlySet<PhaseKind> = new Set(['idle-loaded', 'work-holding', 'work-metering'])
const SHUT: ReadonlySet<PhaseKind> = new Set(['work-moving', 'idle-unloaded'])

/** A pressure that swings by itself while the relief passes oil. */
export function hunting(ledger: Ledger, line: ReliefLine, year: YearCost): Finding | null {
  const { trace, sensors } = ledger
  if (trace.sampleIntervalS > 1 / LEAST_RATE_HZ) return null
  const windows = windowsOf(ledger, OPEN)
  const swing = windows.length >= LEAST_WINDOWS ? strongestSwing(ledger, windows) : null
  if (!swing || swing.share < LEAST_REGULAR_SHARE) return null
  const shut = strongestSwing(ledger, windowsOf(ledger, SHUT))
  const usualPa = shut ? shut.amplitudePa : noiseSd(readerOf(sensors.pumpPressure.values))
  const leastPa = Math.max(LEAST_SWING_SHARE * line.curve.settingPa, BEYOND_SHUT * usualPa)
  if (swing.amplitudePa < leastPa) return null
  const swings = windows.filter((one) => (strongestSwing(ledger, [one])?.amplitudePa ?? 0) >= leastPa)
  const timeS = readerOf(trace.timeS)
  const place = ({ from, to }: { from: number; to: number }) => ({
    startS: timeS.at(from),
    endS: timeS.at(to - 1) + trace.sampleIntervalS,
  })
  const worst = swings.reduce<{ at: { from: number; to: number } | null; swing: PressureSwing }>(
    (found, at) => {
      const here = strongestSwing(ledger, [at])
      return here && (!found.at || here.amplitudePa > found.swing.amplitudePa) ? { at, swing: here } : found
    },
    { at: null, swing },
  )
  const seconds = swings.reduce((sum, { from, to }) => sum + (to - from) * trace.sampleIntervalS, 0)
  return {
    code: 'hunting',
    values: {
      swingBar: swing.amplitudePa / PA_PER_BAR,
      frequencyHz: swing.frequencyHz,
      regularShare: swing.share,
      swingShutBar: usualPa / PA_PER_BAR,
      sampleRateHz: 1 / trace.sampleIntervalS,
    },
    evidence: {
      seconds,
      first: swings.length > 0 ? place(swings[0]) : null,
      worst: worst.at && place(worst.at),
    },
    checks: ['remote-pilot-line', 'air', 'dirt', 'spring'].map((code) => ({ code, values: {} })),
    ...swingCost(ledger, line, swing, seconds, year),
  }
}

/**
 * A swing wears the valve more than it costs energy: at most what pressure and flow do together, half the square
 * of the amplitude over the line's slope; nothing where the pump's flow is fixed and all of it passes.
 */
function swingCost(ledger: Ledger, line: ReliefLine, swing: PressureSwing, seconds: number, year: YearCost) {
  const mostJ =
    ((swing.amplitudePa ** 2 * seconds) / (2 * reliefSlope(line.curve))) * meterPerHydraulic(ledger)
  const upTo = (high: number) => ({ value: 0, low: 0, high, basis: 'estimated' as const })
  return { kWhInLog: upTo(mostJ / J_PER_KWH), costPerYear: upTo(mostJ * year.perLoggedJ) }
}
