import { describe, expect, it } from 'vitest'
import type { Grounds } from '@/lib/explain/grounds'
import { narrowingOf } from '@/lib/explain/remedy'
import { sensorGrounds } from '@/lib/explain/sensor-grounds'
import { accountFor } from '@/lib/ledger/ledger'
import { IDLE, METER, MOVE } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, type MeterName, repeat } from '../../laws/hand-trace'

const PIECES = repeat([MOVE, METER, IDLE], 3)

/** The remedy for an interval that this source alone makes, with these meters. */
function remedyFor(source: string, fitted: readonly MeterName[]) {
  const sensors = sensorGrounds(accountFor(handTrace(PIECES, { fitted }), HAND_MACHINE))
  const grounds: Grounds = {
    version: 1,
    machine: { pumpKind: 'fixed', reliefKind: 'direct-acting', plate: [] },
    sensors,
    models: [],
    rules: [],
    loggedHours: 1,
    auxiliaries: null,
    year: {
      plannedHours: 1,
      runningHours: 1,
      pricePerKWh: 1,
      plannedHoursLimitShare: 0,
      idleSamplingShareSd: null,
      priceIsMean: false,
      electricPerHeat: 0,
      coolingIsMachines: false,
    },
    parts: {},
    replays: [],
  }
  const part = { source, column: null, below: 1, above: 1, halfWidth: 1, shareOfVariance: 1, goneIfKnown: 1 }
  return narrowingOf([part], grounds)?.code
}

describe('what would narrow an interval', () => {
  it('that holds either pump of a pair: a meter that reads all that they give, then power, then quicker samples', () => {
    expect(remedyFor('pump-states', ['systemFlow', 'current'])).toBe('fit-pump-flow')
    expect(remedyFor('pump-states', ['returnFlow', 'power'])).toBe('fit-pump-flow')
    expect(remedyFor('pump-states', ['pumpFlow', 'current'])).toBe('fit-power-meter')
    expect(remedyFor('pump-states', ['systemFlow', 'returnFlow', 'current'])).toBe('fit-power-meter')
    expect(remedyFor('pump-states', ['pumpFlow', 'power'])).toBe('log-faster')
  })

  it('that holds leakage no meter sees: the second meter that would', () => {
    expect(remedyFor('hold-leakage', ['pumpFlow', 'power'])).toBe('fit-relief-return-flow')
    expect(remedyFor('hold-leakage', ['returnFlow', 'power'])).toBe('fit-pump-flow')
  })
})
