import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { type GroundRule, mergedRules } from '@/lib/explain/merged-rules'
import { groundRules } from '@/lib/explain/rules'
import { accountFor } from '@/lib/ledger/ledger'
import type { FullChannel } from '@/lib/samples/trace'
import { M3S_PER_LPM, RADS_PER_RPM, S_PER_HOUR } from '@/lib/units'
import { HOLD, IDLE, METER, MOVE, OFF, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm } from '../../laws/hand-machine'
import { handTrace, type MeterName, repeat } from '../../laws/hand-trace'

/** What is expected is the node balance of the trade: pump = system + relief + unloading, worked out by hand for each set of meters. */
const VENTED: Machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } }
/** Between standing and the 5 bar of the unloaded pump. */
const RUNNING_FROM_PA = 2e5
const CYCLE = [UNLOADED, MOVE, HOLD, METER, IDLE]

function rulesWith(fitted: readonly MeterName[], machine: Machine = VENTED): GroundRule[] {
  const cycle = machine === VENTED ? CYCLE : CYCLE.filter((piece) => piece !== UNLOADED)
  const pieces = [OFF, ...repeat(cycle, 4), OFF]
  return mergedRules(groundRules(accountFor(handTrace(pieces, { fitted, noise: 0.002, seed: 3 }), machine)))
}

/** The same, with one sensor more that reads a constant value while the machine runs. */
function rulesBeside(
  fitted: readonly MeterName[],
  sensor: Pick<FullChannel, 'quantity' | 'location' | 'unit'>,
  readingSi: number,
): GroundRule[] {
  const pieces = [OFF, ...repeat(CYCLE, 4), OFF]
  const trace = handTrace(pieces, { fitted, noise: 0.002, seed: 3 })
  const [{ values: pressurePa }] = trace.channels
  const values = pressurePa.map((pressure) => (pressure > RUNNING_FROM_PA ? readingSi : 0))
  const beside: FullChannel = { ...sensor, column: 'beside', accuracy: null, values }
  return mergedRules(groundRules(accountFor({ ...trace, channels: [...trace.channels, beside] }, VENTED)))
}

const written = ({ terms }: GroundRule) =>
  terms
    .map(({ coefficient, symbol }) => `${coefficient} ${symbol}`)
    .sort()
    .join(' ')

const longest = (rules: readonly GroundRule[], symbol: string) =>
  rules.find((rule) => rule.symbol === symbol) ?? {
    terms: [],
    kinds: [],
    hours: 0,
    symbol: 'share',
    means: {},
  }

describe('the rule of the flow over the relief is the one that the meters leave', () => {
  it.each<[MeterName[], string]>([
    [['systemFlow', 'power'], '-1 systemFlowMeter 1 fullFlowModel'],
    [['pumpFlow', 'systemFlow', 'power'], '-1 systemFlowMeter 1 pumpFlowMeter'],
    [['returnFlow', 'power'], '1 returnFlowMeter'],
    [['pumpFlow', 'systemFlow', 'returnFlow', 'power'], '1 returnFlowMeter'],
  ])('%j', (fitted, rule) => {
    expect(written(longest(rulesWith(fitted), 'reliefFlow'))).toBe(rule)
  })

  it('with the pump’s flow alone, the whole flow while dead-headed', () => {
    const rules = rulesWith(['pumpFlow', 'power'], HAND_MACHINE)
    const deadHeaded = rules.find(
      (rule) => rule.symbol === 'reliefFlow' && rule.kinds.includes('idle-loaded') && rule.terms.length === 1,
    )
    expect(deadHeaded?.terms).toEqual([{ coefficient: 1, symbol: 'pumpFlowMeter' }])
  })
})

describe('a rule', () => {
  const rules = rulesWith(['systemFlow', 'power'])

  it('covers the time of its kinds', () => {
    const secondsOf = (isLeak: boolean) =>
      rules
        .filter(({ symbol, terms }) => {
          const leaks = terms.some((term) => term.symbol === 'reliefLeakFlow')
          return symbol === 'reliefFlow' && leaks === isLeak
        })
        .reduce((sum, rule) => sum + rule.hours * S_PER_HOUR, 0)
    // Hold, metering and loaded idle last 3 + 5 + 20 s of each of four cycles; moving, 6 s, the relief may leak.
    expect(secondsOf(false)).toBeCloseTo(4 * 28, 0)
    expect(secondsOf(true)).toBeCloseTo(4 * 6, 0)
  })

  it('tells the means that its terms add up to', () => {
    const adding = ['reliefFlow', 'electricPower', 'shaftPower'] as const
    for (const rule of rules.filter(({ symbol }) => adding.some((one) => one === symbol))) {
      const sum = rule.terms.reduce(
        (total, { coefficient, symbol }) =>
          total + coefficient * (rule.means[symbol as keyof typeof rule.means] ?? Number.NaN),
        0,
      )
      expect(sum / (rule.means[rule.symbol] ?? Number.NaN)).toBeCloseTo(1, 6)
    }
  })

  it('knows the pump’s flow by its model, near the hand-worked one', () => {
    const { means } = longest(rules, 'unloadingFlow')
    expect((means.fullFlowModel ?? 0) / M3S_PER_LPM / handFlowLpm(5)).toBeCloseTo(1, 1)
  })

  it('says whether electric input is read or estimated', () => {
    expect(written(longest(rules, 'electricPower'))).toBe('1 powerMeter')
    const byCurrent = rulesWith(['systemFlow', 'current'])
    expect(written(longest(byCurrent, 'electricPower'))).toBe('1 inputFromShaft')
    const weights = longest(byCurrent, 'shaftPower').terms
    expect(weights.map(({ symbol }) => symbol).sort()).toEqual(['powerFromCurrent', 'powerFromPump'])
    expect(weights.reduce((sum, { coefficient }) => sum + coefficient, 0)).toBeCloseTo(1, 1)
    expect(written(longest(rulesWith(['systemFlow']), 'shaftPower'))).toBe('1 powerFromPump')
  })
})

describe('sensors that few machines have are told where they are used', () => {
  const SPEED = 1480 * RADS_PER_RPM

  it('a case drain meter: what is displaced, less what it reads', () => {
    const rules = rulesBeside(
      ['systemFlow', 'power'],
      { quantity: 'flow', location: 'case-drain', unit: 'L/min' },
      4.5 * M3S_PER_LPM,
    )
    const unloading = longest(rules, 'unloadingFlow')
    expect(written(unloading)).toBe('-1 caseDrainMeter 1 displacedFlow')
    const { displacedFlow = 0, caseDrainMeter = 0 } = unloading.means
    // The hand-worked pump displaces 90 L/min, whatever the pressure.
    expect(displacedFlow / M3S_PER_LPM / 90).toBeCloseTo(1, 1)
    expect(caseDrainMeter / M3S_PER_LPM).toBeCloseTo(4.5, 0)
  })

  it('a logged speed: the pump’s model at that speed', () => {
    const rules = rulesBeside(
      ['systemFlow'],
      { quantity: 'speed', location: 'motor-shaft', unit: 'rpm' },
      SPEED,
    )
    const unloading = longest(rules, 'unloadingFlow')
    expect(written(unloading)).toBe('1 fullFlowAtSpeed')
    expect((unloading.means.speedMeter ?? 0) / RADS_PER_RPM).toBeCloseTo(1480, -1)
    expect(written(longest(rules, 'shaftPower'))).toBe('1 powerFromPumpAtSpeed')
  })

  it('a logged voltage: beside the power that it sets the losses for', () => {
    const rules = rulesBeside(
      ['systemFlow', 'power'],
      { quantity: 'voltage', location: 'motor-supply', unit: 'V' },
      400,
    )
    expect(longest(rules, 'shaftPower').means.voltageMeter).toBeCloseTo(400, 0)
    expect(longest(rulesWith(['systemFlow', 'power']), 'shaftPower').means.voltageMeter).toBeUndefined()
  })
})

describe('rules of several kinds of phases as one', () => {
  const rule = (kind: 'work-moving' | 'work-holding', hours: number, flow: number): GroundRule => ({
    symbol: 'reliefFlow',
    kinds: [kind],
    hours,
    terms: [{ coefficient: 1, symbol: 'returnFlowMeter' }],
    means: { reliefFlow: flow, returnFlowMeter: flow },
  })

  it('weigh their means by their time', () => {
    const [one, ...others] = mergedRules([rule('work-moving', 1, 10), rule('work-holding', 3, 30)])
    expect(others).toEqual([])
    expect(one.kinds).toEqual(['work-moving', 'work-holding'])
    expect(one.hours).toBe(4)
    expect(one.means.reliefFlow).toBe(25)
  })
})
