import { electricPower, nodeFlows, type Readings } from '@/lib/ledger/operating-point'
import { shaftFromReadingW } from '@/lib/machine/electric-side'
import { inPumpState, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import type { Moment, Terms } from './moment'
import type { SymbolCode } from './symbols'

const MOVED_SHARE = 1e-4
const LEAST_COEFFICIENT = 0.02

/** What is read beside power or current and sets the motor's losses: speed with a drive, voltage without one. */
function besideMotor(read: Readings, { drive }: MachineModel): Partial<Record<SymbolCode, number>> {
  if (drive) return Number.isNaN(read.speedRadS) ? {} : { speedMeter: read.speedRadS }
  return Number.isNaN(read.voltageV) ? {} : { voltageMeter: read.voltageV }
}

/** A power that is what one reading or model says. */
const is = (symbol: SymbolCode, by: SymbolCode, valueW: number, beside: Terms['values']): Terms => ({
  symbol,
  terms: [{ coefficient: 1, symbol: by }],
  values: { ...beside, [symbol]: valueW, [by]: valueW },
})

/** What electric input and shaft power answer to at a moment: the meter, the current through the motor's model, the pump's model. */
export function powerTermsAt({ read, kind, model, curve, frame }: Moment): Terms[] {
  const { motor } = model
  const { pump } = nodeFlows(read, kind, model, curve, frame.reliefPa, frame.isSteady)
  const ask = (readings: Readings, weight = frame.currentWeight) => ({
    ...electricPower(readings, kind, model, pump, weight),
  })
  const here = ask(read)
  if (!Number.isNaN(read.powerW)) {
    const up = ask({ ...read, powerW: read.powerW * (1 + MOVED_SHARE) + MOVED_SHARE * motor.ratedInputW })
    if (up.electricW !== here.electricW) {
      const values = { powerMeter: read.powerW }
      const input = here.electricW === read.powerW ? 'powerMeter' : 'inputFromPower'
      const electric = is('electricPower', input, here.electricW, values)
      if (!(here.shaftW > 0)) return [electric]
      const beside = { ...values, ...besideMotor(read, model) }
      return [electric, is('shaftPower', 'shaftFromPower', here.shaftW, beside)]
    }
  }
  if (here.electricW === 0) return []
  if (kind === 'starting') {
    return [is('electricPower', 'startingPower', here.electricW, { currentMeter: read.currentA })]
  }
  const isAtSpeed = !Number.isNaN(read.speedRadS)
  const byPump = isAtSpeed ? 'powerFromPumpAtSpeed' : 'powerFromPump'
  const fed = inPumpState(model, read.pumpState)
  const pumpW = pumpShaftW(fed, read.pumpPressurePa, model.isFixed ? null : pump, read.speedRadS)
  const seenW = shaftFromReadingW(model, read)
  const weights: [SymbolCode, number, number][] = Number.isNaN(seenW)
    ? [[byPump, 1, pumpW]]
    : [
        ['powerFromCurrent', Number.isNaN(pumpW) ? 1 : frame.currentWeight, seenW],
        [byPump, Number.isNaN(pumpW) ? 0 : 1 - frame.currentWeight, pumpW],
      ]
  const used = weights.filter(([, weight]) => weight > LEAST_COEFFICIENT)
  const terms = used.map(([symbol, coefficient]) => ({ coefficient, symbol }))
  const isBy = (symbol: SymbolCode) => used.some(([one]) => one === symbol)
  const values: Partial<Record<SymbolCode, number>> = {
    ...Object.fromEntries(used.map(([symbol, , value]) => [symbol, value])),
    ...(isBy('powerFromCurrent') ? { currentMeter: read.currentA, ...besideMotor(read, model) } : {}),
    ...(isBy('powerFromPumpAtSpeed') ? { speedMeter: read.speedRadS } : {}),
  }
  return [
    { symbol: 'shaftPower', terms, values: { ...values, shaftPower: here.shaftW } },
    is('electricPower', 'inputFromShaft', here.electricW, { shaftPower: here.shaftW }),
  ]
}
