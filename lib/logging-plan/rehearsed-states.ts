import { inputFromShaftW } from '@/lib/machine/electric-side'
import { fullFlowM3S, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { reliefFlowM3S } from '@/lib/machine/relief'
import { PA_PER_BAR } from '@/lib/units'
import type { MixedKind } from './duty-mix'

/** All readings at one operating point of a machine that is as its plates say, SI. */
export interface State {
  readonly kind: MixedKind | 'stopped'
  readonly pumpPressurePa: number
  readonly loadPressurePa: number
  readonly pumpFlowM3S: number
  readonly systemFlowM3S: number
  readonly returnFlowM3S: number
  readonly caseDrainM3S: number
  readonly powerW: number
  readonly currentA: number
  readonly speedRadS: number
}

export const STOPPED: State = {
  kind: 'stopped',
  pumpPressurePa: 0,
  loadPressurePa: 0,
  pumpFlowM3S: 0,
  systemFlowM3S: 0,
  returnFlowM3S: 0,
  caseDrainM3S: 0,
  powerW: 0,
  currentA: 0,
  speedRadS: 0,
}

/** Load pressures over the relief setting, and shares of full flow, of the rehearsed work (common practice, no source). */
const MOVING_LOAD = 0.35
const MOVING_DROP = 0.1
const METERED = [
  { load: 0.5, flow: 0.3 },
  { load: 0.65, flow: 0.7 },
] as const
const HELD_LOAD = 0.9
/** A compensator below the relief setting (contract default), a load-sensing pump above its load and at standby. */
const COMPENSATOR_BELOW_BAR = 10
const LOAD_SENSING_MARGIN_BAR = 17
const STANDBY_BAR = 20
const HALVINGS = 40

/** Pressure at which the relief passes what a fixed pump gives beside `systemM3S`, Pa. */
function reliefBalancePa(model: MachineModel, systemShare: number): number {
  const passes = (pressurePa: number) =>
    reliefFlowM3S(model.relief, pressurePa) - (1 - systemShare) * fullFlowM3S(model, pressurePa)
  let low = 0
  let high = 2 * model.relief.settingPa
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (low + high) / 2
    if (passes(middle) < 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** Pressure of a pump that gives what is asked, Pa. */
function strokedPa({ machine, relief }: MachineModel, loadPa: number, isIdle: boolean): number {
  const limitPa = Math.max(relief.settingPa - COMPENSATOR_BELOW_BAR * PA_PER_BAR, relief.settingPa / 2)
  if (machine.pump.kind === 'pressure-compensated') return limitPa
  return isIdle
    ? Math.min(limitPa, STANDBY_BAR * PA_PER_BAR)
    : Math.min(limitPa, loadPa + LOAD_SENSING_MARGIN_BAR * PA_PER_BAR)
}

type Asked = Pick<State, 'kind' | 'pumpPressurePa' | 'loadPressurePa'> & {
  readonly systemShare: number
}

/** Flows, power and current that the models give where pressure and demand are known. */
function stateOf(model: MachineModel, asked: Asked): State {
  const { kind, pumpPressurePa, loadPressurePa, systemShare } = asked
  const fullM3S = fullFlowM3S(model, pumpPressurePa)
  const isUnloaded = kind === 'idle-unloaded'
  const isCentreOpen = isUnloaded && model.machine.unloading.kind === 'open-centre'
  const pumpFlowM3S = model.isFixed || isUnloaded ? fullM3S : systemShare * fullM3S
  const systemFlowM3S = isCentreOpen ? fullM3S : systemShare * fullM3S
  const shaftW = pumpShaftW(model, pumpPressurePa, model.isFixed ? null : pumpFlowM3S)
  return {
    kind,
    pumpPressurePa,
    loadPressurePa,
    pumpFlowM3S,
    systemFlowM3S,
    returnFlowM3S: pumpFlowM3S - systemFlowM3S,
    caseDrainM3S: model.pump.leakageM3S(pumpPressurePa),
    powerW: inputFromShaftW(model, shaftW),
    currentA: model.motor.currentA(shaftW),
    speedRadS: model.motor.speedRadS(model.pump.torqueNm(pumpPressurePa)),
  }
}

/** Shaft power that the pump takes at its highest pressure over what the motor is rated for, by the plates. */
export function motorLoad(model: MachineModel): number {
  const pressurePa = model.isFixed
    ? reliefBalancePa(model, 0)
    : strokedPa(model, model.relief.settingPa, false)
  return pumpShaftW(model, pressurePa) / model.motor.ratedShaftW
}

/** Operating points that stand for a kind: metering at two flows, so that the relief's line shows. */
export function statesOf(kind: MixedKind, model: MachineModel): State[] {
  const { relief, isFixed, unloadingPa } = model
  const at = (loadShare: number, systemShare: number, fixedPa: () => number, isIdle = false) =>
    stateOf(model, {
      kind,
      systemShare,
      loadPressurePa: loadShare * relief.settingPa,
      pumpPressurePa: isFixed ? fixedPa() : strokedPa(model, loadShare * relief.settingPa, isIdle),
    })
  switch (kind) {
    case 'idle-unloaded':
      return [stateOf(model, { kind, pumpPressurePa: unloadingPa, loadPressurePa: 0, systemShare: 0 })]
    case 'idle-loaded':
      return [at(0, 0, () => reliefBalancePa(model, 0), true)]
    case 'work-holding':
      return [at(HELD_LOAD, 0, () => reliefBalancePa(model, 0))]
    case 'work-moving': {
      const pumpPressurePa = (MOVING_LOAD + MOVING_DROP) * relief.settingPa
      return [
        stateOf(model, {
          kind,
          pumpPressurePa,
          loadPressurePa: MOVING_LOAD * relief.settingPa,
          systemShare: 1,
        }),
      ]
    }
    case 'work-metering':
      return METERED.map(({ load, flow }) => at(load, flow, () => reliefBalancePa(model, flow)))
  }
}
