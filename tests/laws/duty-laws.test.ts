import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { PhaseKind } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { rankReplayed } from '@/lib/options/rank'
import { HOLD, IDLE, METER, MOVE } from './hand-duty'
import { HAND_MACHINE, handFlowLpm, handReliefBar, handRunKW } from './hand-machine'
import { handTrace, type MeterName, type Piece } from './hand-trace'

/** Laws over duties nobody thought of: what was put together by hand is found again. */
interface Stretch {
  readonly piece: Piece
  readonly kind: PhaseKind
}

const seconds = (min: number, max: number) => fc.integer({ min, max })
const moving = fc.tuple(seconds(2, 15), fc.integer({ min: 30, max: 125 })).map(
  ([length, bar]): Stretch => ({
    piece: { ...MOVE, seconds: length, bar, loadBar: bar - 8, systemLpm: handFlowLpm(bar) },
    kind: 'work-moving',
  }),
)
// From 15 to 70 of 85 L/min over the relief: a part clearly passes it, and clearly not all.
const metering = fc.tuple(seconds(2, 12), fc.integer({ min: 15, max: 70 })).map(([length, over]): Stretch => {
  const bar = handReliefBar(over)
  return {
    piece: { ...METER, seconds: length, bar, systemLpm: handFlowLpm(bar) - over },
    kind: 'work-metering',
  }
})
const holding = seconds(2, 12).map(
  (length): Stretch => ({ piece: { ...HOLD, seconds: length }, kind: 'work-holding' }),
)
const idle = seconds(3, 60).map(
  (length): Stretch => ({ piece: { ...IDLE, seconds: length }, kind: 'idle-loaded' }),
)

/** Any order of stretches, beginning with an idle so that every machine has been seen at rest under pressure. */
const duty = fc
  .tuple(
    seconds(20, 40),
    fc.array(fc.oneof(moving, metering, holding, idle), { minLength: 4, maxLength: 24 }),
    fc.constantFrom(5, 10, 20),
    fc.constantFrom(0, 0.001, 0.003),
    fc.integer({ min: 1, max: 1000 }),
  )
  .map(([first, stretches, rateHz, noise, seed]) => ({
    stretches: [
      { piece: { ...IDLE, seconds: first }, kind: 'idle-loaded' as const },
      { piece: MOVE, kind: 'work-moving' as const },
      ...stretches,
    ],
    rateHz,
    noise,
    seed,
  }))

/** Neighbouring stretches of one kind are one phase. */
function phasesBuilt(stretches: readonly Stretch[]): { kind: PhaseKind; startS: number }[] {
  const built: { kind: PhaseKind; startS: number }[] = []
  let atS = 0
  for (const { piece, kind } of stretches) {
    if (built.at(-1)?.kind !== kind) built.push({ kind, startS: atS })
    atS += piece.seconds
  }
  return built
}

const FITTED: readonly MeterName[] = ['loadPressure', 'systemFlow', 'power']
const PARTS = ['motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem', 'unaccounted'] as const

const ledgerOf = ({
  stretches,
  ...habits
}: {
  stretches: Stretch[]
  rateHz: number
  noise: number
  seed: number
}) =>
  accountFor(
    handTrace(
      stretches.map(({ piece }) => piece),
      { fitted: FITTED, ...habits },
    ),
    HAND_MACHINE,
  )

describe('any duty', () => {
  it('has the phases it was built of, each boundary within a sample', () => {
    fc.assert(
      fc.property(duty, (of) => {
        const { phases } = ledgerOf(of).segmentation
        const built = phasesBuilt(of.stretches)
        expect(phases.map(({ kind }) => kind)).toEqual(built.map(({ kind }) => kind))
        phases.forEach(({ startS }, k) => {
          expect(Math.abs(startS - built[k].startS)).toBeLessThanOrEqual(1 / of.rateHz + 1e-9)
        })
      }),
      { numRuns: 40 },
    )
  })

  it('has the energy it was built of, and the account closes', () => {
    fc.assert(
      fc.property(duty, (of) => {
        const got = ledgerKWh(ledgerOf(of))
        const handKWh = of.stretches.reduce(
          (sum, { piece }) => sum + (handRunKW(piece.bar) * piece.seconds) / 3600,
          0,
        )
        // Noise of 0.3 % of full scale at most, no offsets.
        expect(Math.abs(got.electricIn.value / handKWh - 1)).toBeLessThan(0.005)
        const parts = PARTS.reduce((sum, key) => sum + got[key].value, 0)
        expect(Math.abs(parts - got.electricIn.value)).toBeLessThan(1e-10)
        const overKWh = of.stretches.reduce(
          (sum, { piece }) =>
            sum +
            (piece.bar * (handFlowLpm(piece.bar) - (piece.systemLpm ?? 0)) * piece.seconds) / 600 / 3600,
          0,
        )
        expect(Math.abs(got.overRelief.value - overKWh)).toBeLessThan(0.01 * handKWh)
      }),
      { numRuns: 25 },
    )
  })

  it('no option saves less than nothing or more than all, no set more than its parts', () => {
    const site = siteSchema.parse({})
    fc.assert(
      fc.property(duty, (of) => {
        const { options, combinations } = rankReplayed(ledgerOf(of), {
          site,
          runningHours: 1,
          pricePerKWh: 0.2,
          cycles: [],
        }).ranked
        const saved = new Map(options.map((option) => [option.id, option.savedKWhPerYear?.value ?? 0]))
        for (const { feasible, savedShare } of options) {
          if (!feasible) continue
          expect(savedShare?.value).toBeGreaterThanOrEqual(0)
          expect(savedShare?.value).toBeLessThan(1)
          expect(savedShare?.low).toBeLessThanOrEqual(savedShare?.value ?? 0)
          expect(savedShare?.high).toBeLessThanOrEqual(1 + 1e-9)
        }
        for (const set of combinations) {
          const parts = set.options.map((id) => saved.get(id) ?? 0)
          const sum = parts.reduce((total, part) => total + part, 0)
          expect(set.savedKWhPerYear.value).toBeLessThanOrEqual(sum * (1 + 1e-9))
          expect(set.savedKWhPerYear.value).toBeGreaterThanOrEqual(Math.max(...parts) * (1 - 1e-9))
        }
      }),
      { numRuns: 15 },
    )
  })
})
