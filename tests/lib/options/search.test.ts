import { describe, expect, it } from 'vitest'
import { OPTION_IDS, type OptionId } from '@/lib/contract/result'
import { seededRandom } from '@/lib/numeric/random'
import { CATALOGUE } from '@/lib/options/catalogue'
import { bestSets } from '@/lib/options/combine'
import { contextOf } from '@/lib/options/context'
import { replayAll } from '@/lib/options/replay'
import { sampleOf } from '@/lib/options/sample'
import { reUnited } from '@/lib/options/serve'
import { waysOf } from '@/lib/options/starved'
import type { SupplyStep } from '@/lib/options/supply'
import { HOLD, IDLE, METER, MOVE } from '../../laws/hand-duty'
import { handFlowLpm, handReliefBar } from '../../laws/hand-machine'
import type { Piece } from '../../laws/hand-trace'
import { electricOfSupplyJ, ledgerOf, planOf, savingOn, siteWith } from './hand-options'

/** Strokes, presses and idles that are never the same twice. */
function variedDuty(strokes: number): Piece[] {
  const random = seededRandom(8)
  return Array.from({ length: strokes }, (): Piece[] => {
    const over = 20 + 45 * random()
    const bar = handReliefBar(over)
    const moving = 40 + 60 * random()
    return [
      { ...IDLE, seconds: 20 + 10 * random() },
      {
        ...MOVE,
        seconds: 4 + 3 * random(),
        bar: moving,
        loadBar: moving - 8,
        systemLpm: handFlowLpm(moving),
      },
      { ...HOLD, seconds: 2 + 2 * random() },
      {
        ...METER,
        seconds: 3 + 4 * random(),
        bar,
        loadBar: 50 + 60 * random(),
        systemLpm: handFlowLpm(bar) - over,
      },
    ]
  }).flat()
}

const ledger = ledgerOf(variedDuty(60))
const context = contextOf(ledger, siteWith())

describe('the catalogue', () => {
  it('holds every option of the contract once', () => {
    expect(CATALOGUE.map(({ id }) => id).sort()).toEqual([...OPTION_IDS].sort())
  })
  it('judges every option or says why not', () => {
    for (const { id } of CATALOGUE) {
      const plan = planOf(id, ledger)
      expect(plan.change !== null || plan.reasons.length > 0, id).toBe(true)
    }
  })
  it.each(OPTION_IDS)('%s warns where it is carried out', (id) => {
    const plan = planOf(id, ledger)
    if (plan.change) expect(plan.cautions.length).toBeGreaterThan(1)
    expect(plan.judged || plan.change === null).toBe(true)
  })
})

describe('operating points', () => {
  it('are fewer than the steps and hold all their running time and energy', () => {
    const { duty, rough, supply, model } = context
    const time = (steps: readonly SupplyStep[]) => steps.reduce((sum, step) => sum + step.durationS, 0)
    for (const { duty: of, electricJ } of [duty, rough]) {
      expect(of.points.length).toBeLessThan(0.95 * supply.length)
      expect(time(of.points)).toBeCloseTo(time(supply), 6)
      expect(electricJ / electricOfSupplyJ(supply, model)).toBeCloseTo(1, 4)
    }
  })
  it('the size found is the best on the grid over the whole trace too', () => {
    const { settings, share } = savingOn(ledger, 'smaller-pump')
    expect(Number(settings.pumpCm3) % 3).toBeCloseTo(0, 6)
    expect(share.value).toBeGreaterThan(0)
  })
})

describe('laws', () => {
  it('the same motor and pump in another’s place save exactly nothing', () => {
    const same = reUnited((unit) => ({ ...unit }), waysOf(context.supply, context.model.relief))
    const [nothing] = replayAll(ledger, [{ change: same }], [])
    expect(nothing.savedShare).toBe(0)
    expect(nothing.reach).toEqual({ below: 0, above: 0 })
  })
  it('the order of the steps is all the same to options that look at one step at a time', () => {
    const { supply, model } = context
    for (const id of ['smaller-pump', 'load-sensing-pump', 'variable-speed-drive', 'efficient-motor']) {
      const { change } = planOf(id, ledger)
      if (!change) throw new Error(`${id} is feasible`)
      const forwards = electricOfSupplyJ(change(supply, model), model)
      const backwards = electricOfSupplyJ(change([...supply].reverse(), model), model)
      expect(backwards / forwards, id).toBeCloseTo(1, 12)
    }
  })
})

describe('sets of options', () => {
  const feasible = CATALOGUE.flatMap(({ id }) => {
    const { change } = planOf(id, ledger)
    return change ? [{ id, change }] : []
  })
  const { sets } = bestSets(feasible, context)
  const ONE_CIRCUIT: ReadonlySet<OptionId> = new Set([
    'vent-relief-at-idle',
    'open-centre-unloading',
    'high-low-pumps',
    'pressure-compensated-pump',
    'load-sensing-pump',
    'variable-speed-drive',
    'accumulator-charging',
  ])
  it('hold one way to serve the circuit at most, and no smaller pump beside another new one', () => {
    expect(sets.length).toBeGreaterThan(2)
    for (const { options } of sets) {
      const ways = options.filter((id) => ONE_CIRCUIT.has(id))
      expect(ways.length).toBeLessThan(2)
      if (options.includes('smaller-pump')) {
        expect(ways.filter((id) => !/vent|open-centre/.test(id))).toEqual([])
      }
    }
  })
  it('save, replayed on all steps, more than any one of theirs', () => {
    const single = new Map(
      replayAll(ledger, feasible, []).map(({ savedShare }, k) => [feasible[k].id, savedShare]),
    )
    replayAll(ledger, sets, []).forEach(({ savedShare }, k) => {
      const best = Math.max(...sets[k].options.map((id) => single.get(id) ?? 0))
      expect(savedShare).toBeGreaterThan(best)
    })
  })
})

describe('sample of a list', () => {
  const list = Array.from({ length: 10_000 }, (_, i) => i)
  it('is all of a short one', () => {
    expect(sampleOf(list.slice(0, 900), 1000)).toEqual(list.slice(0, 900))
  })
  it('is unbroken stretches of a long one, from its first to its last', () => {
    const sample = sampleOf(list, 1000)
    expect(sample).toHaveLength(1000)
    expect(sample[0]).toBe(0)
    expect(sample.at(-1)).toBe(9999)
    const breaks = sample.filter((value, i) => i > 0 && value !== sample[i - 1] + 1)
    expect(breaks).toHaveLength(7)
  })
})
