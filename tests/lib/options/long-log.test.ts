import { describe, expect, it } from 'vitest'
import type { OptionId } from '@/lib/contract/result'
import { seededRandom } from '@/lib/numeric/random'
import { CATALOGUE } from '@/lib/options/catalogue'
import { type SupplyChange, together } from '@/lib/options/change'
import { bestSets } from '@/lib/options/combine'
import { contextOf } from '@/lib/options/context'
import { carriedOut, dutyOfSupply } from '@/lib/options/duty'
import type { Replayer } from '@/lib/options/option'
import { dutyUnder } from '@/lib/options/points'
import { recordingOf } from '@/lib/options/recording'
import { handFlowLpm, handReliefBar } from '../../laws/hand-machine'
import type { Piece } from '../../laws/hand-trace'
import { ledgerOf, siteWith } from './hand-options'

/** A saving on points of a long log is that of every step within this share of itself. */
const NEAR_SHARE = 1e-3

/** Where a limit just allows one setting or the next, a search on few points may take the other. */
const SEARCH_NEAR_SHARE = 0.05

const SEARCHED: ReadonlySet<OptionId> = new Set(['smaller-pump', 'high-low-pumps', 'second-relief-setting'])

const STROKES = 2600
const RATE_HZ = 1

/** Strokes of which no two are alike: their loads and flows lie anywhere within wide limits. */
function everDifferent(): Piece[] {
  const random = seededRandom(5)
  const between = (low: number, high: number) => low + (high - low) * random()
  const metering = (): Piece => {
    const reliefLpm = between(15, 70)
    const bar = handReliefBar(reliefLpm)
    return { seconds: 5, bar, loadBar: between(40, 130), systemLpm: handFlowLpm(bar) - reliefLpm, cycle: 1 }
  }
  const moving = (): Piece => {
    const bar = between(40, 120)
    return { seconds: 4, bar, loadBar: bar - 10, systemLpm: handFlowLpm(bar), cycle: 1 }
  }
  return Array.from({ length: STROKES }, (): Piece[] => [
    { seconds: 8, bar: 160, loadBar: 0, systemLpm: 0 },
    moving(),
    metering(),
    { seconds: 4, bar: 160, loadBar: between(90, 140), systemLpm: 0, cycle: 1 },
    metering(),
  ]).flat()
}

describe('a long log of which no two strokes are alike', () => {
  const ledger = ledgerOf(everDifferent(), undefined, undefined, RATE_HZ)
  const { supply, model, pointsAt } = recordingOf(ledger)
  const context = contextOf(ledger, siteWith())
  const duty = dutyOfSupply(supply)
  const logged = carriedOut(duty, null, model)
  // As a function of the whole supply a change cuts idles by itself.
  const onSteps: Replayer = {
    ...logged,
    with: (change) => carriedOut(duty, (steps, of) => change(steps, of), model),
  }
  const savedOn = ({ electricJ, with: replay }: Replayer, change: SupplyChange) =>
    1 - replay(change).electricJ / electricJ
  const feasible = CATALOGUE.flatMap(({ id, plan }) => {
    const { change } = plan(context)
    return change ? [{ id, change }] : []
  })

  it('is replayed on far fewer points than it has steps', () => {
    expect(pointsAt([]).all.alike.length).toBeLessThan(supply.length / 2)
    expect(pointsAt([]).few.alike.length).toBeLessThan(supply.length / 10)
  })

  it('saves on them what it saves step by step, alone and in sets', () => {
    const { sets } = bestSets(feasible, context)
    const all = [
      ...feasible.map(({ id, change }) => ({ name: id, change })),
      ...sets.map(({ options, change }) => ({ name: options.join(' and '), change })),
    ]
    const agesS = together(all.map(({ change }) => change)).agesS ?? []
    const points = dutyUnder(pointsAt(agesS).all, recordingOf(ledger))
    const onPoints: Replayer = {
      ...carriedOut(points, null, model),
      with: (change) => carriedOut(points, change, model),
    }
    const far = all.flatMap(({ name, change }) => {
      const [found, byStep] = [savedOn(onPoints, change), savedOn(onSteps, change)]
      return Math.abs(found - byStep) <= NEAR_SHARE * Math.abs(byStep)
        ? []
        : [`${name}: ${found}, not ${byStep}`]
    })
    expect(feasible.length).toBeGreaterThan(7)
    expect(far).toEqual([])
  })

  it('is searched on few of them for settings that save as much as those of a search step by step', () => {
    const inPlace: Replayer = { ...logged, with: (change) => carriedOut(duty, change, model) }
    const byStep = { ...context, duty: inPlace, rough: inPlace }
    const searched = CATALOGUE.filter(({ id }) => SEARCHED.has(id))
    const less = searched.flatMap(({ id, plan }) => {
      const [found, best] = [plan(context), plan(byStep)].map(
        ({ change }) => change && savedOn(inPlace, change),
      )
      if (found === null || best === null) return found === best ? [] : [id]
      return found >= best - SEARCH_NEAR_SHARE * Math.abs(best) ? [] : [`${id}: ${found}, not ${best}`]
    })
    expect(less).toEqual([])
  })
})
