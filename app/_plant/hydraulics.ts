import { M3_PER_CM3, PA_PER_BAR } from '@/lib/units'
import { leakage, type TruePump } from './make-pump'
import { reliefFlow, type TrueRelief } from './make-relief'

/** The state of valves and load at an instant, after their switching lags. */
export interface Valves {
  /** Conductance of the way to the actuator, m³/s per √Pa. */
  conductance: number
  flowLimitM3S: number
  loadPa: number
  settingPa: number
  crackPa: number
  /** Conductance of the open centre, 0 when shut. */
  centre: number
  compensatorPa: number
  /** Least share of full speed on a drive that slows the pump instead of its stroke; null without a drive. */
  leastSpeed: number | null
  /** Further pumps that feed the line at the moment, each at its shaft's speed. */
  helpers: readonly Helper[]
}

export interface Helper {
  readonly pump: TruePump
  readonly drive: { readonly speedRadS: number }
}

export interface Flows {
  pressurePa: number
  pumpM3S: number
  leakM3S: number
  actuatorM3S: number
  reliefM3S: number
  centreM3S: number
  /** Stroke share of a compensated pump, 1 for a fixed one. */
  stroke: number
  /** Speed over that on the mains, 1 without a drive. */
  speedShare: number
}

/** Rounds the square root off near zero so that the balance keeps a finite slope. */
const SOFT_PA = 0.2 * PA_PER_BAR
const COMPENSATOR_BAND_PA = 3 * PA_PER_BAR

function orifice(conductance: number, dropPa: number): number {
  return dropPa <= 0 ? 0 : (conductance * dropPa) / Math.sqrt(dropPa + SOFT_PA)
}

/** All flows at a trial pressure, written into `out`; returns pump flow less what is taken. */
function balance(
  pump: TruePump,
  relief: TrueRelief,
  valves: Valves,
  speedRadS: number,
  viscosity: number,
  pressurePa: number,
  out: Flows,
): number {
  const spare = (valves.compensatorPa - pressurePa) / COMPENSATOR_BAND_PA
  const share = Math.min(1, Math.max(valves.leastSpeed ?? 0, spare))
  out.stroke = valves.leastSpeed === null ? share : 1
  out.speedShare = valves.leastSpeed === null ? 1 : share
  out.pressurePa = pressurePa
  out.leakM3S = leakage(pump, pressurePa, viscosity)
  out.pumpM3S = pump.volumeM3 * speedRadS * out.stroke * out.speedShare - out.leakM3S
  for (const helper of valves.helpers) {
    const leakM3S = leakage(helper.pump, pressurePa, viscosity)
    out.leakM3S += leakM3S
    out.pumpM3S += helper.pump.volumeM3 * helper.drive.speedRadS - leakM3S
  }
  out.actuatorM3S = Math.min(valves.flowLimitM3S, orifice(valves.conductance, pressurePa - valves.loadPa))
  out.reliefM3S = reliefFlow(relief, pressurePa, valves.settingPa, valves.crackPa)
  out.centreM3S = orifice(valves.centre, pressurePa)
  return out.pumpM3S - out.actuatorM3S - out.reliefM3S - out.centreM3S
}

/**
 * The pump pressure at which the node balances, by the Illinois false-position method from a warm
 * start. Flow taken rises and pump flow falls with pressure, so there is one root.
 */
export function solveNode(
  pump: TruePump,
  relief: TrueRelief,
  valves: Valves,
  speedRadS: number,
  viscosity: number,
  out: Flows,
): void {
  const at = (pressurePa: number) => balance(pump, relief, valves, speedRadS, viscosity, pressurePa, out)
  const toleranceM3S = 1e-8 * pump.volumeM3 * speedRadS + M3_PER_CM3 * 1e-6
  let low = Math.max(0, out.pressurePa * 0.99)
  let high = out.pressurePa * 1.01 + 0.05 * PA_PER_BAR
  let gLow = at(low)
  let reach = out.pressurePa * 0.02 + PA_PER_BAR
  while (gLow < 0 && low > 0) {
    high = low
    low = Math.max(0, low - reach)
    reach *= 3
    gLow = at(low)
  }
  if (gLow <= 0) return
  let gHigh = at(high)
  while (gHigh > 0) {
    low = high
    gLow = gHigh
    high += reach
    reach *= 3
    gHigh = at(high)
  }
  let side = 0
  for (let step = 0; step < 100; step += 1) {
    const next = (low * gHigh - high * gLow) / (gHigh - gLow)
    const g = at(next)
    if (Math.abs(g) < toleranceM3S) return
    if (g > 0) {
      low = next
      gLow = g
      if (side === 1) gHigh /= 2
      side = 1
    } else {
      high = next
      gHigh = g
      if (side === -1) gLow /= 2
      side = -1
    }
  }
}
