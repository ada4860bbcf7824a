import { M3_PER_CM3, PA_PER_BAR } from '@/lib/units'
import type { Flows, Valves } from './hydraulics'
import { leakage } from './make-pump'
import type { Run } from './programme'
import type { Change, MachineSpec } from './spec'

type Charging = Extract<Change, { id: 'accumulator-charging' }>

const CM3_PER_LITRE = 1000
/** Gas follows p·V^n with this exponent in strokes of seconds; real gas and shell lie a little below 1.4 (from memory). */
const EXPONENT = 1.35
const AMBIENT_BAR = 1.01
/** Gas charge over the lowest pressure, absolute; charging begins with half of the oil gone. */
const PRECHARGE = 0.9
const RELOAD = 0.5

/** An accumulator between two pressures, filled by the pump and emptied by the strokes. */
export function createCharge(change: Charging) {
  const absolute = (bar: number) => (bar + AMBIENT_BAR) * PA_PER_BAR
  const gasM3 = change.gasLitres * CM3_PER_LITRE * M3_PER_CM3
  const constant = PRECHARGE * absolute(change.lowBar) * gasM3 ** EXPONENT
  const gasAt = (bar: number) => (constant / absolute(bar)) ** (1 / EXPONENT)
  const smallest = gasAt(change.highBar)
  const largest = gasAt(change.lowBar)
  let gas = smallest
  let charges = false
  return {
    /** One step: what the strokes take, what the pump gives, and the pressure the pump works against. */
    advance(
      spec: MachineSpec,
      asIs: MachineSpec,
      run: Run,
      valves: Valves,
      speedRadS: number,
      viscosity: number,
      stepS: number,
      out: Flows,
    ) {
      const pressurePa = constant / gas ** EXPONENT - absolute(0)
      // Wide open, the valves are set to the flow that the stroke had from the pump.
      const strokeM3S =
        asIs.pump.volumeM3 * speedRadS - leakage(asIs.pump, valves.loadPa + LINE_DROP_PA, viscosity)
      const works = run.kind.startsWith('work')
      out.actuatorM3S = works ? Math.min(valves.flowLimitM3S, strokeM3S) : 0
      if (gas <= smallest) charges = false
      if (gas >= smallest + RELOAD * (largest - smallest)) charges = true
      out.pressurePa = charges ? pressurePa : spec.unloading.pressureBar * PA_PER_BAR
      out.leakM3S = leakage(spec.pump, out.pressurePa, viscosity)
      out.stroke = 1
      out.speedShare = 1
      out.pumpM3S = spec.pump.volumeM3 * speedRadS - out.leakM3S
      out.reliefM3S = 0
      out.centreM3S = charges ? 0 : out.pumpM3S
      gas = Math.max(smallest * 0.999, gas + (out.actuatorM3S - (charges ? out.pumpM3S : 0)) * stepS)
    },
  }
}

const LINE_DROP_PA = 6 * PA_PER_BAR
