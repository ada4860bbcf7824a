import { describe, expect, it } from 'vitest'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import { OPTION_IDS, PHASE_KINDS } from '@/lib/contract/result'
import { auxiliariesKWh, ownCircuitsKWh } from '@/lib/ledger/beside'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { at } from '@/lib/ledger/parameters'
import { ledgerProblems } from '@/lib/ledger/problems'
import { planOf, rankedFor, reasonsOf, savingOn } from '../lib/options/hand-options'
import { HOLD, IDLE, METER, MOVE, OFF, START } from './hand-duty'
import { HAND_MACHINE, handCurrentA, handFlowLpm, handInputKW, handShaftKW } from './hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from './hand-trace'

/** Laws of units with more than one pump, motor or consumer, on machines worked out by hand. */
const CYCLE = [IDLE, MOVE, HOLD, METER]
const DUTY: readonly Piece[] = [OFF, START, ...repeat(CYCLE, 6), OFF]
const WITH_POWER: readonly MeterName[] = ['loadPressure', 'systemFlow', 'power']
const WITH_CURRENT: readonly MeterName[] = ['loadPressure', 'systemFlow', 'current']

const machineWith = (more: object): Machine => machineSchema.parse({ ...HAND_MACHINE, ...more })
const ledgerOf = (machine: Machine, pieces: readonly Piece[], fitted = WITH_POWER) =>
  accountFor(handTrace(pieces, { fitted }), machine)
const codesOf = (ledger: Ledger) => ledgerProblems(ledger).map(({ code }) => code)
const TERMS = ['electricIn', 'motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem'] as const
const PARTS = ['motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem', 'unaccounted'] as const

const expectClosed = (ledger: Ledger) => {
  for (const kinds of [...PHASE_KINDS.map((kind) => [kind]), PHASE_KINDS]) {
    const row = ledgerKWh(ledger, kinds)
    expect(PARTS.reduce((sum, key) => sum + row[key].value, 0)).toBeCloseTo(row.electricIn.value, 9)
  }
}

describe('auxiliaries on the feeder', () => {
  const always = { name: 'Filter loop', powerKW: 1.2, powerFactor: 0.75 }
  const cooler = { name: 'Cooler', powerKW: 2, when: 'motor-running', powerFactor: 0.8 }
  const machine = machineWith({ auxiliaries: [always, cooler] })
  const kVar = (kW: number, factor: number) => kW * Math.tan(Math.acos(factor))
  /** What meters around the whole feeder read. */
  const onFeeder = (piece: Piece): Piece => {
    const runs = !piece.off
    const [auxKW, auxKVar] = runs ? [3.2, kVar(1.2, 0.75) + kVar(2, 0.8)] : [1.2, kVar(1.2, 0.75)]
    const shaftKW = handShaftKW(piece.bar)
    const motorKW = piece.kW ?? (runs ? handInputKW(shaftKW) : 0)
    const amps = piece.amps ?? (runs ? handCurrentA(shaftKW) : 0)
    const perAmpere = Math.sqrt(3) * 0.4
    const motorKVar = Math.sqrt(Math.max(0, (amps * perAmpere) ** 2 - motorKW ** 2))
    return {
      ...piece,
      kW: motorKW + auxKW,
      amps: Math.hypot(motorKW + auxKW, motorKVar + auxKVar) / perAmpere,
    }
  }
  const feeder = DUTY.map(onFeeder)
  const runningS = 2 + 6 * CYCLE.reduce((sum, { seconds }) => sum + seconds, 0)

  it.each([
    ['power', WITH_POWER, 6],
    ['current', WITH_CURRENT, 2],
  ] as const)('leave the account of the motor as if they were not there (%s)', (_, fitted, digits) => {
    const alone = ledgerKWh(ledgerOf(HAND_MACHINE, DUTY, fitted))
    const ledger = ledgerOf(machine, feeder, fitted)
    const together = ledgerKWh(ledger)
    for (const term of TERMS) expect(together[term].value).toBeCloseTo(alone[term].value, digits)
    expectClosed(ledger)
    expect(codesOf(ledger)).not.toContain('auxiliaries-contradicted')
  })

  it('make up with the electric input what the meter counted', () => {
    const ledger = ledgerOf(machine, feeder)
    const meterKWh = feeder.reduce((sum, { kW = 0, seconds }) => sum + (kW * seconds) / 3600, 0)
    const loggedS = feeder.reduce((sum, { seconds }) => sum + seconds, 0)
    const offsetKWh = (ledger.values[at('powerOffset')] / 1e3 / 3600) * loggedS
    const beside = auxiliariesKWh(ledger)
    expect(ledgerKWh(ledger).electricIn.value + (beside?.value ?? 0) + offsetKWh).toBeCloseTo(meterKWh, 9)
    expect(beside?.value).toBeCloseTo((1.2 * loggedS + 2 * runningS) / 3600, 9)
  })

  it('widen the input: what runs with the motor shows at no rest', () => {
    const halfWidth = (of: Machine, pieces: readonly Piece[]) => {
      // With a little noise, for a meter that shows exactly nil at rest may have cut its readings off.
      const trace = handTrace(pieces, { fitted: WITH_POWER, noise: 0.0005 })
      const { high, value } = ledgerKWh(accountFor(trace, of)).electricIn
      return high - value
    }
    const coolerKWh = (0.1 * 2 * runningS) / 3600
    expect(halfWidth(machine, feeder)).toBeCloseTo(Math.hypot(halfWidth(HAND_MACHINE, DUTY), coolerKWh), 3)
  })

  it('are contradicted by a meter that reads less, or much more, while all is stopped', () => {
    const wrong = (powerKW: number) => machineWith({ auxiliaries: [{ ...always, powerKW }, cooler] })
    expect(codesOf(ledgerOf(wrong(4), feeder))).toContain('auxiliaries-contradicted')
    const more = feeder.map((piece) => (piece.off ? { ...piece, kW: 4 } : piece))
    expect(codesOf(ledgerOf(machine, more))).toContain('auxiliaries-contradicted')
    expect(codesOf(ledgerOf(wrong(1.25), feeder))).not.toContain('auxiliaries-contradicted')
  })
})

/** Half of the hand-worked pump. */
const HALF = { ...HAND_MACHINE.pump, displacementCm3: 30 }

describe('a high–low pair', () => {
  const machine = machineWith({ furtherPumps: [{ ...HALF, unloadsAboveBar: 100 }] })
  /** Above 100 bar the half pump works against the 5 bar of the unloading way. */
  const shaftKW = (bar: number) =>
    bar > 100 ? handShaftKW(bar) + 0.5 * handShaftKW(5) : 1.5 * handShaftKW(bar)
  const onPair = (piece: Piece): Piece =>
    piece.off || piece.kW
      ? piece
      : {
          ...piece,
          kW: handInputKW(shaftKW(piece.bar)),
          systemLpm: piece === MOVE ? 1.5 * handFlowLpm(MOVE.bar) : piece.systemLpm,
        }
  const ledger = ledgerOf(machine, DUTY.map(onPair))
  const row = ledgerKWh(ledger)
  /** 20 s idle, 3 s holding and 5 s metering of each stroke lie above. */
  const aboveS = 6 * 28

  it('counts the flow of the large pump at low pressure as unloading', () => {
    expect(row.unloading.value).toBeCloseTo(((5 * 0.5 * handFlowLpm(5)) / 600) * (aboveS / 3600), 4)
  })

  it('has over its relief what the small pump alone leaves', () => {
    const overKW = [(160 * handFlowLpm(160) * 23) / 600, (METER.bar * 42.75 * 5) / 600]
    expect(row.overRelief.value).toBeCloseTo(((overKW[0] + overKW[1]) * 6) / 3600, 2)
  })

  it('closes, with nothing contradicted', () => {
    expectClosed(ledger)
    expect(Math.abs(row.unaccounted.value)).toBeLessThan(0.002 * row.electricIn.value)
  })

  it('is judged for what works on any supply, and not for what assumes one pump', () => {
    for (const id of [
      'smaller-pump',
      'high-low-pumps',
      'pressure-compensated-pump',
      'load-sensing-pump',
      'variable-speed-drive',
      'accumulator-charging',
    ]) {
      expect(reasonsOf(id, ledger), id).toEqual(['several-pumps'])
      expect(planOf(id, ledger).judged, id).toBe(false)
    }
    for (const id of ['vent-relief-at-idle', 'second-relief-setting', 'efficient-motor']) {
      expect(planOf(id, ledger).judged, id).toBe(true)
    }
  })

  it('vented while idle, feeds the line with both pumps at the vent pressure', () => {
    const inputKJ = (bar: number) => handInputKW(shaftKW(bar))
    const strokeKJ = 23 * inputKJ(160) + 6 * inputKJ(80) + 5 * inputKJ(METER.bar)
    const savedKJ = 19.5 * (inputKJ(160) - handInputKW(1.5 * handShaftKW(5)))
    expect(savingOn(ledger, 'vent-relief-at-idle').share.value).toBeCloseTo(savedKJ / strokeKJ, 2)
  })

  describe('that unloads at 95 bar, moving at 80 after it held 160', () => {
    const narrow = machineWith({ furtherPumps: [{ ...HALF, unloadsAboveBar: 95 }] })
    const cycle = [IDLE, HOLD, MOVE, METER]
    const strokes = 6
    const dutyOf = (feeds: boolean) =>
      [OFF, START, ...repeat(cycle, strokes), OFF].map((piece) => {
        if (piece !== MOVE) return onPair(piece)
        const bar = MOVE.bar
        const withPump = feeds ? 1.5 * handShaftKW(bar) : handShaftKW(bar) + 0.5 * handShaftKW(5)
        return {
          ...piece,
          kW: handInputKW(withPump),
          amps: handCurrentA(withPump),
          systemLpm: (feeds ? 1.5 : 1) * handFlowLpm(bar),
        }
      })
    const movedKWh = (feeds: boolean) =>
      (strokes * 6 * MOVE.bar * (feeds ? 1.5 : 1) * handFlowLpm(MOVE.bar)) / 600 / 3600
    const unloadedS = (feeds: boolean) => strokes * (28 + (feeds ? 0 : 6))

    it.each([
      [true, WITH_POWER],
      [false, WITH_POWER],
      [true, WITH_CURRENT],
      [false, WITH_CURRENT],
      [true, ['returnFlow', 'power']],
      [false, ['returnFlow', 'power']],
    ] as const)('feeds (%s) as the meters %j say', (feeds, fitted) => {
      const told = ledgerOf(narrow, dutyOf(feeds), fitted)
      const moving = ledgerKWh(told, ['work-moving'])
      const flowLpm = 0.5 * handFlowLpm(5)
      expect(moving.intoSystem.value / movedKWh(feeds)).toBeCloseTo(1, 1)
      expect(moving.overRelief.value).toBeLessThan(0.01 * movedKWh(feeds))
      const unloading = ledgerKWh(told).unloading.value
      expect(unloading).toBeCloseTo(((5 * flowLpm) / 600) * (unloadedS(feeds) / 3600), 3)
      expect(codesOf(told)).not.toContain('pair-state-unsure')
      expectClosed(told)
    })

    it('is in doubt with a pressure alone: both states lie within the intervals, and that is said', () => {
      const told = ledgerOf(narrow, dutyOf(false), ['returnFlow'])
      const problem = ledgerProblems(told).find(({ code }) => code === 'pair-state-unsure')
      expect(problem?.values.seconds).toBeCloseTo(strokes * 6, 0)
      expect(problem?.values.share).toBeCloseTo(6 / 34, 2)
      const { intoSystem } = ledgerKWh(told, ['work-moving'])
      for (const feeds of [true, false]) {
        expect(intoSystem.low).toBeLessThan(movedKWh(feeds))
        expect(intoSystem.high).toBeGreaterThan(movedKWh(feeds))
      }
      expectClosed(told)
      const saved = savingOn(told, 'vent-relief-at-idle').share
      for (const feeds of [true, false]) {
        const one = savingOn(ledgerOf(narrow, dutyOf(feeds), ['returnFlow', 'power']), 'vent-relief-at-idle')
          .share.value
        expect(one).toBeGreaterThan(saved.low)
        expect(one).toBeLessThan(saved.high)
      }
    })
  })
})

describe('a pump with a circuit of its own', () => {
  const machine = machineWith({ furtherPumps: [{ ...HALF, outlet: { pressureBar: 25 } }] })
  const withPilot = (piece: Piece): Piece =>
    piece.off || piece.kW
      ? piece
      : { ...piece, kW: handInputKW(handShaftKW(piece.bar) + 0.5 * handShaftKW(25)) }
  const ledger = ledgerOf(machine, DUTY.map(withPilot))
  const ownKW = (25 * 0.5 * handFlowLpm(25)) / 600
  const runningS = 6 * CYCLE.reduce((sum, { seconds }) => sum + seconds, 0)

  it('has its hydraulic power in the system and in metering, and beside the account', () => {
    const alone = ledgerKWh(ledgerOf(HAND_MACHINE, DUTY))
    const row = ledgerKWh(ledger)
    const ownKWh = (ownKW * runningS) / 3600
    expect(ownCircuitsKWh(ledger)?.value).toBeCloseTo(ownKWh, 3)
    expect(row.intoSystem.value - alone.intoSystem.value).toBeCloseTo(ownKWh, 3)
    expect((row.metering?.value ?? 0) - (alone.metering?.value ?? 0)).toBeCloseTo(ownKWh, 3)
    expect(row.work?.value).toBeCloseTo(alone.work?.value ?? Number.NaN, 3)
    expect(row.overRelief.value).toBeCloseTo(alone.overRelief.value, 3)
    expectClosed(ledger)
  })

  it('keeps what it takes when another pump takes the first one’s place', () => {
    expect(planOf('pressure-compensated-pump', ledger).judged).toBe(true)
    for (const id of ['smaller-pump', 'high-low-pumps', 'variable-speed-drive', 'accumulator-charging']) {
      expect(reasonsOf(id, ledger), id).toEqual(['several-pumps'])
    }
  })
})

describe('two pumps on one line', () => {
  const two = machineWith({
    pump: { ...HAND_MACHINE.pump, displacementCm3: 40 },
    furtherPumps: [{ ...HAND_MACHINE.pump, displacementCm3: 20 }],
  })

  it('give the account and the savings of one pump of their sum', () => {
    const [one, both] = [ledgerOf(HAND_MACHINE, DUTY), ledgerOf(two, DUTY)]
    for (const term of TERMS) {
      expect(ledgerKWh(both)[term].value).toBeCloseTo(ledgerKWh(one)[term].value, 9)
    }
    const [ofOne, ofBoth] = [one, both].map((ledger) => rankedFor(ledger).options)
    for (const id of OPTION_IDS) {
      const [a, b] = [ofOne, ofBoth].map((options) => options.find((option) => option.id === id))
      expect(b?.reasons, id).toEqual(a?.reasons)
      for (const [name, value] of Object.entries(a?.settings ?? {})) {
        if (typeof value === 'number') expect(b?.settings[name], `${id} ${name}`).toBeCloseTo(value, 6)
        else expect(b?.settings[name]).toBe(value)
      }
      expect(b?.feasible, id).toBe(a?.feasible)
      if (a?.savedShare) expect(b?.savedShare?.value, id).toBeCloseTo(a.savedShare.value, 9)
    }
  })
})

describe('two sets alike on one line and one meter', () => {
  const machine = machineWith({
    furtherSets: [{ count: 1 }],
    relief: { ...HAND_MACHINE.relief, ratedFlowLpm: 2 * HAND_MACHINE.relief.ratedFlowLpm },
  })
  const doubled = (piece: Piece): Piece => ({
    ...piece,
    kW: 2 * (piece.kW ?? (piece.off ? 0 : handInputKW(handShaftKW(piece.bar)))),
    systemLpm: 2 * (piece.systemLpm ?? 0),
  })

  it('have twice the account of one', () => {
    // Meters of the hand-worked machine read to twice as much here, and so do their limits.
    const [one, two] = [ledgerOf(HAND_MACHINE, DUTY), ledgerOf(machine, DUTY.map(doubled))]
    for (const term of TERMS) {
      expect(ledgerKWh(two)[term].value).toBeCloseTo(2 * ledgerKWh(one)[term].value, 4)
    }
    expect(codesOf(two)).not.toContain('sets-not-all-running')
    expectClosed(two)
  })

  it('say so when the meter shows one of them', () => {
    expect(codesOf(ledgerOf(machine, DUTY))).toContain('sets-not-all-running')
    expect(codesOf(ledgerOf(machine, DUTY, WITH_CURRENT))).toContain('sets-not-all-running')
  })

  it('leave open which of them a drive or a pair would take', () => {
    const ledger = ledgerOf(machine, DUTY.map(doubled))
    expect(reasonsOf('variable-speed-drive', ledger)).toEqual(['several-pumps'])
    expect(reasonsOf('high-low-pumps', ledger)).toEqual(['several-pumps'])
    const one = savingOn(ledgerOf(HAND_MACHINE, DUTY), 'vent-relief-at-idle').share.value
    expect(savingOn(ledger, 'vent-relief-at-idle').share.value).toBeCloseTo(one, 4)
  })
})
