import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { PhaseKind } from '@/lib/contract/result'
import { ACCOUNT_KEYS, accountArrays } from '@/lib/ledger/account-series'
import { eachPiece } from '@/lib/ledger/pieces'
import { heldAccount } from '../../invented/held-account'

const ELECTRIC_IN = ACCOUNT_KEYS.indexOf('electricIn')

interface Sample {
  readonly kind: PhaseKind
  readonly holdS: number
  readonly gapS: number
  readonly watts: number
}

function cutAt(samples: readonly Sample[], edgesS: readonly number[]) {
  const timeS = new Float64Array(samples.length)
  const holdS = Float64Array.from(samples, (sample) => sample.holdS)
  let atS = 0
  samples.forEach((sample, i) => {
    if (i > 0) atS += sample.gapS
    timeS[i] = atS
    atS += sample.holdS
  })
  const series = {
    ...accountArrays(samples.length),
    electricIn: Float64Array.from(samples, (sample) => sample.watts),
  }
  const kinds = samples.map((sample) => sample.kind)
  const pieces: { kind: PhaseKind; stretch: number; seconds: number; joules: number }[] = []
  eachPiece(
    heldAccount(kinds, series, { timeS, holdS }),
    { timeS, holdS },
    edgesS,
    ({ kind, stretch, seconds, energiesJ }) => {
      pieces.push({ kind, stretch, seconds, joules: energiesJ[ELECTRIC_IN] })
    },
  )
  return { pieces, timeS, holdS }
}

describe('cutting an account at edges in time', () => {
  it('divides a sample that holds across an edge: 100 W for 10 s, cut after 4 s', () => {
    const { pieces } = cutAt([{ kind: 'idle-loaded', holdS: 10, gapS: 0, watts: 100 }], [4])
    expect(pieces).toEqual([
      { kind: 'idle-loaded', stretch: 0, seconds: 4, joules: 400 },
      { kind: 'idle-loaded', stretch: 1, seconds: 6, joules: 600 },
    ])
  })

  it('leaves a step whole that no edge crosses, and passes edges that lie in a gap', () => {
    const { pieces } = cutAt(
      [
        { kind: 'idle-loaded', holdS: 2, gapS: 0, watts: 5 },
        { kind: 'idle-loaded', holdS: 2, gapS: 0, watts: 7 },
        { kind: 'work-moving', holdS: 1, gapS: 30, watts: 9 },
      ],
      [10, 20],
    )
    expect(pieces).toEqual([
      { kind: 'idle-loaded', stretch: 0, seconds: 4, joules: 24 },
      { kind: 'work-moving', stretch: 2, seconds: 1, joules: 9 },
    ])
  })

  const sample = fc.record({
    kind: fc.constantFrom<PhaseKind>('stopped', 'idle-loaded', 'work-moving'),
    holdS: fc.integer({ min: 1, max: 40 }).map((tenths) => tenths / 10),
    gapS: fc.constantFrom(0, 0, 0, 7),
    watts: fc.integer({ min: 0, max: 20_000 }),
  })

  it('every stretch gets the time and energy that a count of every tenth of a second gives it', () => {
    fc.assert(
      fc.property(
        fc.array(sample, { minLength: 1, maxLength: 40 }),
        fc.uniqueArray(fc.integer({ min: 1, max: 900 }), { maxLength: 6 }),
        (samples, tenths) => {
          const edges = [...tenths].sort((a, b) => a - b)
          const { pieces, timeS, holdS } = cutAt(
            samples,
            edges.map((tenth) => tenth / 10),
          )
          const wanted = new Map<number, number>()
          samples.forEach(({ watts }, i) => {
            const from = Math.round(timeS[i] * 10)
            for (let tenth = from; tenth < from + Math.round(holdS[i] * 10); tenth++) {
              const stretch = edges.filter((edge) => edge <= tenth).length
              wanted.set(stretch, (wanted.get(stretch) ?? 0) + watts / 10)
            }
          })
          for (const [stretch, joules] of wanted) {
            const found = pieces
              .filter((piece) => piece.stretch === stretch)
              .reduce((sum, piece) => sum + piece.joules, 0)
            expect(Math.abs(found - joules)).toBeLessThan(1e-6 * Math.max(1, joules))
          }
        },
      ),
    )
  })
})
