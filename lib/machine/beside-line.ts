import type { MachineModel } from './machine-model'

/** Hydraulic power of pumps on the shaft that does not go into the line, W. */
export interface BesideW {
  readonly unloadedW: number
  readonly ownCircuitW: number
}

/** What pumps beside the line deliver at a pressure of the line; null where all pumps feed it. */
export function besideAt(
  { pump, motor }: Pick<MachineModel, 'pump' | 'motor'>,
  pressurePa: number,
): BesideW | null {
  if (!pump.beside || Number.isNaN(pressurePa)) return null
  const speedRadS = motor.speedRadS(pump.torqueNm(pressurePa))
  return {
    unloadedW: pump.beside.unloadedW(pressurePa, speedRadS),
    ownCircuitW: pump.beside.ownCircuitW(speedRadS),
  }
}
