import type { Phase } from '@/lib/contract/result'
import { fromSi, toSi } from '@/lib/units'
import type { DutyPoint } from './duty-option'
import type { Envelope } from './samples'

/** Below this the quotient of power and pressure says nothing about flow. */
const LEAST_PRESSURE_BAR = 1

/**
 * Pressure and flow over the relief of each bucket. The flow is the account's power over the relief divided by
 * the pump pressure, so it agrees with the account whichever flow sensor is fitted.
 * @param pressure pump pressure in bar
 * @param overRelief power over the relief in W
 */
export function dutyPoints(pressure: Envelope, overRelief: Envelope, phases: readonly Phase[]): DutyPoint[] {
  const points: DutyPoint[] = []
  let phase = 0
  pressure.timeS.forEach((time, index) => {
    while (phase < phases.length - 1 && phases[phase].endS <= time) phase += 1
    const kind = phases[phase]?.kind
    const bar = pressure.mean[index]
    const watts = overRelief.mean[index]
    if (!kind || bar === null || watts === null || watts === undefined) return
    const flowLpm = bar < LEAST_PRESSURE_BAR ? 0 : fromSi(watts / toSi(bar, 'bar'), 'L/min')
    points.push({ flowLpm, pressureBar: bar, kind })
  })
  return points
}
