import { describe, expect, it } from 'vitest'
import { PHASE_KINDS } from '@/lib/contract/result'
import { accountOf } from '@/lib/ledger/account'
import { ledgerKWh, meterSharesKWh } from '@/lib/ledger/estimates'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { kindIndex, totalsOfSteps } from '@/lib/ledger/totals'
import type { Step } from '@/lib/phases/stretch'
import { inFull } from '@/lib/samples/samples'
import { timeline } from '@/lib/samples/timeline'
import type { FullTrace } from '@/lib/samples/trace'
import { wholeAccount } from '../invented/whole-account'
import { HOLD, IDLE, METER, MOVE, OFF, START, UNLOADED } from './hand-duty'
import { HAND_MACHINE } from './hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from './hand-trace'

/** Laws of any account: it closes, it is additive in time, its shares are the bill. They need no source. */
const SUITES: readonly (readonly MeterName[])[] = [
  ['systemFlow', 'current'],
  ['pumpFlow', 'current'],
  ['returnFlow', 'current'],
  ['loadPressure', 'systemFlow', 'power'],
  ['loadPressure', 'pumpFlow', 'systemFlow', 'returnFlow', 'power', 'current'],
  ['current'],
  ['pumpFlow', 'systemFlow'],
  [],
]
const CYCLE: readonly Piece[] = [
  IDLE,
  MOVE,
  { ...HOLD, seconds: 3 },
  METER,
  { ...MOVE, bar: 110, seconds: 4 },
]
const DUTY: readonly Piece[] = [
  OFF,
  START,
  UNLOADED,
  ...repeat(CYCLE, 4),
  { ...IDLE, gapBeforeS: 40 },
  ...repeat(CYCLE, 4),
  OFF,
]
const VENTED = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } } as const

const PARTS = ['motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem', 'unaccounted'] as const

function account(fitted: readonly MeterName[], pieces: readonly Piece[] = DUTY): Ledger {
  return accountFor(handTrace(pieces, { fitted, noise: 0.003, seed: 5 }), VENTED)
}

describe.each(SUITES.map((fitted) => ({ fitted, name: fitted.join(', ') || 'pump pressure alone' })))(
  '$name',
  ({ fitted }) => {
    const ledger = account(fitted)
    const { trace, totals } = ledger
    const series = wholeAccount(ledger.account)

    it('closes to rounding in every sample', () => {
      let worst = 0
      for (let i = 0; i < trace.timeS.length; i++) {
        const sum = PARTS.reduce((total, key) => total + series[key][i], 0)
        worst = Math.max(worst, Math.abs(sum - series.electricIn[i]))
      }
      // W, on 30 kW.
      expect(worst).toBeLessThan(1e-7)
    })

    it('closes in every kind of phase and in the log, in kWh', () => {
      for (const kinds of [...PHASE_KINDS.map((kind) => [kind]), PHASE_KINDS]) {
        const row = ledgerKWh(ledger, kinds)
        const sum = PARTS.reduce((total, key) => total + row[key].value, 0)
        expect(Math.abs(sum - row.electricIn.value)).toBeLessThan(1e-10)
        if (row.metering && row.work) {
          expect(Math.abs(row.metering.value + row.work.value - row.intoSystem.value)).toBeLessThan(1e-10)
        } else expect(fitted).not.toContain('loadPressure')
      }
    })

    it('phases add up to the log', () => {
      const all = ledgerKWh(ledger)
      for (const key of ['electricIn', ...PARTS] as const) {
        const sum = PHASE_KINDS.reduce((total, kind) => total + ledgerKWh(ledger, [kind])[key].value, 0)
        expect(Math.abs(sum - all[key].value)).toBeLessThan(1e-10)
      }
    })

    it('shares at the meter add up to the bill', () => {
      const shares = meterSharesKWh(ledger)
      const sum =
        shares.idle.value +
        shares.overRelief.value +
        (shares.metering?.value ?? 0) +
        shares.work.value +
        shares.unaccounted.value
      expect(sum).toBeCloseTo(ledgerKWh(ledger).electricIn.value, 10)
    })

    it('every figure lies within its own interval', () => {
      const row = ledgerKWh(ledger)
      for (const one of [...Object.values(row), ...Object.values(meterSharesKWh(ledger))]) {
        if (!one) continue
        expect(one.low).toBeLessThanOrEqual(one.value)
        expect(one.high).toBeGreaterThanOrEqual(one.value)
        expect(Number.isFinite(one.low) && Number.isFinite(one.high)).toBe(true)
      }
    })

    it('the sums of steps are the sums of samples', () => {
      let electricJ = 0
      const holdS = inFull(trace.holdS)
      for (let i = 0; i < holdS.length; i++) electricJ += series.electricIn[i] * holdS[i]
      const summed = PHASE_KINDS.reduce((total, kind) => total + totals[kindIndex(kind, 'electricIn')], 0)
      expect(summed / electricJ).toBeCloseTo(1, 12)
    })
  },
)

/** Samples [from, to) as a trace of its own. */
function part(trace: FullTrace, from: number, to: number): FullTrace {
  const timeS = trace.timeS.slice(from, to).map((time) => time - trace.timeS[from])
  return {
    timeS,
    ...timeline(timeS),
    channels: trace.channels.map((channel) => ({ ...channel, values: channel.values.slice(from, to) })),
    startedAtMs: null,
  }
}

describe('splitting a trace in two', () => {
  it('leaves its energies unchanged to rounding, with the same parameters', () => {
    const ledger = account(SUITES[4])
    const { segmentation, sensors, model, curve, values, trace, totals, currentLimitA } = ledger
    const totalsOf = (steps: readonly Step[]) => {
      const { energiesJ } = accountOf(steps, sensors, model, curve, values, currentLimitA, trace.holdS)
      return totalsOfSteps(steps, energiesJ, model)
    }
    for (const share of [0.1, 0.37, 0.5, 0.9]) {
      const at = Math.floor(share * segmentation.steps.length)
      const first = totalsOf(segmentation.steps.slice(0, at))
      const second = totalsOf(segmentation.steps.slice(at))
      totals.forEach((total, i) => {
        expect(Math.abs(first[i] + second[i] - total)).toBeLessThan(1e-6)
      })
    }
  })

  it.each(SUITES.slice(0, 5))(
    'moves no energy by more than 0.5 % of the input when each part is analysed: %s',
    (...fitted) => {
      const whole = handTrace(repeat(CYCLE, 12), { fitted, noise: 0.002, seed: 8 })
      const half = Math.floor(whole.timeS.length / 2)
      const parts = [part(whole, 0, half), part(whole, half, whole.timeS.length)]
      const all = ledgerKWh(accountFor(whole, VENTED))
      const halves = parts.map((one) => ledgerKWh(accountFor(one, VENTED)))
      for (const key of ['electricIn', ...PARTS] as const) {
        const sum = halves[0][key].value + halves[1][key].value
        expect(Math.abs(sum - all[key].value), key).toBeLessThan(0.005 * all.electricIn.value)
      }
    },
  )
})

describe('the same log at other times', () => {
  it('every third sample of a steady duty gives the same energies within 0.5 %', () => {
    const at = (rateHz: number) =>
      ledgerKWh(accountFor(handTrace(repeat(CYCLE, 8), { fitted: SUITES[3], rateHz }), HAND_MACHINE))
    const fine = at(30)
    const coarse = at(10)
    for (const key of ['electricIn', ...PARTS] as const) {
      expect(Math.abs(fine[key].value - coarse[key].value)).toBeLessThan(0.005 * fine.electricIn.value)
    }
  })
})
