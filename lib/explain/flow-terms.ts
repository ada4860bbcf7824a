import type { Term } from '@/lib/contract/explanation'
import { type NodeFlows, nodeFlows, type Readings } from '@/lib/ledger/operating-point'
import { fullFlowM3S, inPumpState } from '@/lib/machine/machine-model'
import { leakM3S, reliefFlowM3S } from '@/lib/machine/relief'
import type { Moment, Terms } from './moment'
import type { SymbolCode } from './symbols'

const FLOWS: readonly (readonly [keyof NodeFlows, SymbolCode])[] = [
  ['pump', 'pumpFlow'],
  ['system', 'systemFlow'],
  ['relief', 'reliefFlow'],
  ['unload', 'unloadingFlow'],
  ['residual', 'residualFlow'],
]

const METERS = [
  ['pumpFlowM3S', 'pumpFlowMeter'],
  ['systemFlowM3S', 'systemFlowMeter'],
  ['returnFlowM3S', 'returnFlowMeter'],
  ['caseDrainM3S', 'caseDrainMeter'],
] as const satisfies readonly (readonly [keyof Readings, SymbolCode])[]

/** The pump's model: with a case drain meter it gives what is displaced, and the meter's leakage goes off; at the logged speed where there is one. */
const MODEL_FLOWS = {
  full: { atSlip: 'fullFlowModel', atSpeed: 'fullFlowAtSpeed' },
  displaced: { atSlip: 'displacedFlow', atSpeed: 'displacedFlowAtSpeed' },
} as const
const AT_SPEED: readonly SymbolCode[] = ['fullFlowAtSpeed', 'displacedFlowAtSpeed', 'partStrokeFlow']

/** A coefficient below this is none. */
const LEAST_COEFFICIENT = 0.02
/** Flows are moved by this share of the pump's. */
const MOVED_SHARE = 1e-4

/** What every flow at the pump's node answers to at a moment, and how much. Nil flows have no terms and are left out. */
export function flowTermsAt({
  read,
  kind,
  model,
  curve,
  frame,
  movedModel,
  movedCurve,
  movedLeak,
}: Moment): Terms[] {
  if (kind === 'stopped' || kind === 'starting' || Number.isNaN(read.pumpPressurePa)) return []
  const ask = (readings: Readings, withModel = model, withCurve = curve) =>
    nodeFlows(readings, kind, withModel, withCurve, frame.reliefPa, frame.isSteady)
  const here = { ...ask(read) }
  const answers: { symbol: SymbolCode; value: number; flows: NodeFlows; step: number }[] = []
  const stepM3S = MOVED_SHARE * model.pump.ratedFlowM3S
  for (const [reading, symbol] of METERS) {
    if (Number.isNaN(read[reading])) continue
    const flows = { ...ask({ ...read, [reading]: read[reading] + stepM3S }) }
    answers.push({ symbol, value: read[reading], flows, step: stepM3S })
  }
  const isAtSpeed = !Number.isNaN(read.speedRadS)
  const fed = inPumpState(model, read.pumpState)
  const full = fullFlowM3S(fed, read.pumpPressurePa, read.speedRadS)
  const drained = !Number.isNaN(read.caseDrainM3S)
  answers.push({
    symbol: MODEL_FLOWS[drained ? 'displaced' : 'full'][isAtSpeed ? 'atSpeed' : 'atSlip'],
    value: drained ? full + fed.pump.leakageM3S(read.pumpPressurePa) : full,
    flows: { ...ask(read, movedModel) },
    step: fullFlowM3S(inPumpState(movedModel, read.pumpState), read.pumpPressurePa, read.speedRadS) - full,
  })
  const line = reliefFlowM3S(curve, frame.reliefPa)
  answers.push({
    symbol: 'reliefLineFlow',
    value: line,
    flows: { ...ask(read, model, movedCurve) },
    step: reliefFlowM3S(movedCurve, frame.reliefPa) - line,
  })
  const leak = leakM3S(curve, read.pumpPressurePa)
  answers.push({
    symbol: 'reliefLeakFlow',
    value: leak,
    flows: { ...ask(read, model, movedLeak) },
    step: leakM3S(movedLeak, read.pumpPressurePa) - leak,
  })
  const electric = Number.isNaN(read.powerW) ? 'currentA' : 'powerW'
  if (!model.isFixed && !Number.isNaN(read[electric])) {
    const flows = { ...ask({ ...read, [electric]: read[electric] * (1 + MOVED_SHARE) }) }
    answers.push({ symbol: 'partStrokeFlow', value: here.pump, flows, step: flows.pump - here.pump })
  }
  return FLOWS.flatMap(([flow, symbol]): Terms[] => {
    if (Number.isNaN(here[flow])) return []
    const terms: Term[] = []
    const values: Partial<Record<SymbolCode, number>> = {
      [symbol]: here[flow],
      pumpPressure: read.pumpPressurePa,
    }
    if (!Number.isNaN(read.loadPressurePa)) values.loadPressure = read.loadPressurePa
    for (const answer of answers) {
      const coefficient = answer.step === 0 ? 0 : (answer.flows[flow] - here[flow]) / answer.step
      if (!(Math.abs(coefficient) > LEAST_COEFFICIENT)) continue
      terms.push({ coefficient, symbol: answer.symbol })
      values[answer.symbol] = answer.value
      if (isAtSpeed && AT_SPEED.includes(answer.symbol)) values.speedMeter = read.speedRadS
    }
    return terms.length === 0 ? [] : [{ symbol, terms, values }]
  })
}
