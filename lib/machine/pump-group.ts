import type { PumpModel } from './pump'

/** A further pump on a shaft and where its oil goes. */
export interface GroupMember {
  readonly pump: PumpModel
  /** Fixed pressure of a circuit of its own, Pa; null where it feeds the common line. */
  readonly ownOutletPa: number | null
  /** Pressure of the common line above which its flow goes to tank, Pa; null where it always feeds. */
  readonly unloadsAbovePa: number | null
}

/**
 * Pumps on one shaft as one pump: flows into the common line add, torques add. Above its unloading pressure a
 * pump gives nothing to the line and takes the torque of the unloading pressure; a pump with a circuit of its
 * own takes a constant torque. Which pumps feed follows from the line's pressure alone: between reloading and
 * unloading a real pair remembers where it came from, which no model of a moment can know.
 */
export function pumpGroup(first: PumpModel, further: readonly GroupMember[], unloadedPa: number): PumpModel {
  if (further.length === 0) return first
  const own = further.flatMap(({ pump, ownOutletPa }) =>
    ownOutletPa === null ? [] : [{ pump, ownOutletPa }],
  )
  const line = further.filter(({ ownOutletPa }) => ownOutletPa === null)
  const ownTorqueNm = own.reduce((sum, { pump, ownOutletPa }) => sum + pump.torqueNm(ownOutletPa), 0)
  const feeds = ({ unloadsAbovePa }: GroupMember, pressurePa: number) =>
    unloadsAbovePa === null || !(pressurePa > unloadsAbovePa)
  const sumFeeding = (pressurePa: number, of: (pump: PumpModel) => number) => {
    let sum = of(first)
    for (const member of line) if (feeds(member, pressurePa)) sum += of(member.pump)
    return sum
  }
  const unloadedTorqueNm = (pressurePa: number) => {
    let sum = ownTorqueNm
    for (const member of line) if (!feeds(member, pressurePa)) sum += member.pump.torqueNm(unloadedPa)
    return sum
  }
  return {
    leakageM3S: (pressurePa) => sumFeeding(pressurePa, (pump) => pump.leakageM3S(pressurePa)),
    theoreticalM3S: (pressurePa, speedRadS) =>
      sumFeeding(pressurePa, (pump) => pump.theoreticalM3S(pressurePa, speedRadS)),
    flowM3S: (pressurePa, speedRadS) => sumFeeding(pressurePa, (pump) => pump.flowM3S(pressurePa, speedRadS)),
    torqueNm: (pressurePa) =>
      sumFeeding(pressurePa, (pump) => pump.torqueNm(pressurePa)) + unloadedTorqueNm(pressurePa),
    lossTorqueNm: (pressurePa) =>
      sumFeeding(pressurePa, (pump) => pump.lossTorqueNm(pressurePa)) + unloadedTorqueNm(pressurePa),
    ratedFlowM3S: line.reduce((sum, { pump }) => sum + pump.ratedFlowM3S, first.ratedFlowM3S),
    displacementM3PerRad: line.reduce(
      (sum, { pump }) => sum + pump.displacementM3PerRad,
      first.displacementM3PerRad,
    ),
    beside:
      own.length === 0 && line.every(({ unloadsAbovePa }) => unloadsAbovePa === null)
        ? null
        : {
            unloadedW: (pressurePa, speedRadS) => {
              let sum = 0
              for (const member of line) {
                if (!feeds(member, pressurePa)) sum += unloadedPa * member.pump.flowM3S(unloadedPa, speedRadS)
              }
              return sum
            },
            ownCircuitW: (speedRadS) =>
              own.reduce(
                (sum, { pump, ownOutletPa }) => sum + ownOutletPa * pump.flowM3S(ownOutletPa, speedRadS),
                0,
              ),
          },
  }
}
