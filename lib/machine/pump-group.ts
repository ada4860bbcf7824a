import type { PumpLatch, PumpModel } from './pump'

/** A further pump on a shaft and where its oil goes. */
export interface GroupMember {
  readonly pump: PumpModel
  /** Fixed pressure of a circuit of its own, Pa; null where it feeds the common line. */
  readonly ownOutletPa: number | null
  /** Pressure of the common line above which its flow goes to tank, Pa; null where it always feeds. */
  readonly unloadsAbovePa: number | null
}

/** Once unloaded, a pump feeds again below about this share of its unloading pressure (common practice, no source). */
export const RELOAD_SHARE = 0.85
/** A latch whose state is known keeps it this share beyond its thresholds: valves are set by hand, readings scatter. */
const BEYOND_SHARE = 0.2

type Feeds = (member: GroupMember, pressurePa: number) => boolean

/** Pumps on one shaft as one, with `feeds` to tell which of the line's feed it at a pressure. */
function groupFeeding(
  first: PumpModel,
  further: readonly GroupMember[],
  unloadedPa: number,
  feeds: Feeds,
): Omit<PumpModel, 'latch'> {
  const own = further.flatMap(({ pump, ownOutletPa }) =>
    ownOutletPa === null ? [] : [{ pump, ownOutletPa }],
  )
  const line = further.filter(({ ownOutletPa }) => ownOutletPa === null)
  const ownTorqueNm = own.reduce((sum, { pump, ownOutletPa }) => sum + pump.torqueNm(ownOutletPa), 0)
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

/** By the line's pressure alone. */
const byPressure: Feeds = ({ unloadsAbovePa }, pressurePa) =>
  unloadsAbovePa === null || !(pressurePa > unloadsAbovePa)

/** The group with its unloading pumps in each state that they can be in. */
function latchOf(first: PumpModel, further: readonly GroupMember[], unloadedPa: number): PumpLatch | null {
  const unloading = further.filter(
    ({ ownOutletPa, unloadsAbovePa }) => ownOutletPa === null && unloadsAbovePa !== null,
  )
  if (unloading.length === 0) return null
  const states = Array.from({ length: 2 ** unloading.length }, (_, state) => state)
  const isFeeding = (member: GroupMember, state: number) => {
    const bit = unloading.indexOf(member)
    return bit < 0 || (state & (1 << bit)) !== 0
  }
  const inState = (feeds: (member: GroupMember, pressurePa: number, fed: boolean) => boolean) =>
    states.map(
      (state): PumpModel => ({
        ...groupFeeding(first, further, unloadedPa, (member, pressurePa) =>
          feeds(member, pressurePa, isFeeding(member, state)),
        ),
        latch: null,
      }),
    )
  return {
    unloadsAbovePa: unloading.map(({ unloadsAbovePa }) => unloadsAbovePa ?? Number.NaN),
    fixed: inState((_, __, fed) => fed),
    from: inState(({ unloadsAbovePa }, pressurePa, fed) => {
      if (unloadsAbovePa === null) return true
      const overPa = (1 + BEYOND_SHARE) * unloadsAbovePa
      return fed ? !(pressurePa > overPa) : pressurePa < (1 - BEYOND_SHARE) * RELOAD_SHARE * unloadsAbovePa
    }),
  }
}

/**
 * Pumps on one shaft as one pump: flows into the common line add, torques add. A pump that is unloaded gives nothing
 * to the line and takes the torque of the unloading pressure; a pump with a circuit of its own takes a constant
 * torque. Which pumps feed at a pressure between reloading and unloading hangs on where it came from: `latch` has the
 * group in each state; the group itself goes by the unloading pressure alone.
 */
export function pumpGroup(first: PumpModel, further: readonly GroupMember[], unloadedPa: number): PumpModel {
  if (further.length === 0) return first
  return {
    ...groupFeeding(first, further, unloadedPa, byPressure),
    latch: latchOf(first, further, unloadedPa),
  }
}
