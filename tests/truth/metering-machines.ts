import type { Duty, Range, Step } from '@/app/_plant/duty'
import { randomMachine } from '@/app/_plant/random-machine'
import { scattered } from '@/app/_plant/scatter'
import type { MachineSpec } from '@/app/_plant/spec'
import { type Random, seededRandom } from '@/lib/numeric/random'

/**
 * Machines whose only flow meter is at the pump's outlet and that meter for long: part of the oil moves the load, the rest
 * passes the relief, and nothing but a little pressure tells that from a pump that is dead-headed.
 */
export const METERING_DUTIES = [
  'loaded',
  'vented',
  'vented late',
  'early',
  'open centre',
  'vented after a wait',
] as const
export type MeteringDuty = (typeof METERING_DUTIES)[number]

const UNLOADING = {
  loaded: 'none',
  early: 'none',
  vented: 'vented-relief',
  'vented late': 'vented-relief',
  'vented after a wait': 'vented-relief',
  'open centre': 'open-centre',
} as const satisfies Record<MeteringDuty, MachineSpec['unloading']['kind']>

function dutyOf(kind: MeteringDuty, random: Random): Duty {
  const between = (low: number, high: number) => low + (high - low) * random()
  const about = (value: number, share: number): Range => [value * (1 - share), value * (1 + share)]
  const move = (): Step => ({
    kind: 'work-moving',
    durationS: about(between(2, 5), 0.08),
    load: about(between(0.15, 0.4), 0.06),
  })
  const meter = (low: number, high: number): Step => ({
    kind: 'work-metering',
    durationS: about(between(low, high), 0.08),
    load: about(between(0.3, 0.6), 0.06),
    flow: about(between(0.15, 0.7), 0.02),
  })
  const hold = (): Step => ({ kind: 'work-holding', durationS: about(between(3, 10), 0.08), flow: [0, 0.01] })
  const steps: Readonly<Record<MeteringDuty, () => Step[]>> = {
    loaded: () => [move(), meter(6, 25), meter(6, 25), move()],
    vented: () => [move(), meter(8, 25), meter(8, 25)],
    'vented late': () => [move(), meter(5, 15), hold(), move()],
    early: () => [move(), meter(8, 25), meter(8, 25)],
    'open centre': () => [move(), meter(5, 20), ...(random() < 0.5 ? [hold()] : []), move()],
    'vented after a wait': () => [move(), meter(6, 20), move()],
  }
  const idlesLoaded = UNLOADING[kind] === 'none'
  const idle = between(22, 50)
  const late = kind === 'vented late' ? between(0.6, 5) : kind === 'vented after a wait' ? between(16, 20) : 0
  return {
    steps: steps[kind](),
    idleKind: idlesLoaded ? 'idle-loaded' : 'idle-unloaded',
    idleS: [idle, idle * between(1.2, 1.8)],
    ...(late > 0 ? { unloadsAfterS: Number(late.toFixed(1)) } : {}),
    pause: { share: 0.08, durationS: [60, 120], stopShare: 0.3 },
    stoppedS: [8, 20],
    startS: [0.4, 1],
  }
}

/** A machine of the kind, away from its plates by chance. */
export function meteringMachine(seed: number, kind: MeteringDuty): MachineSpec {
  const random = seededRandom(Math.imul(seed, 0x27d4eb2f))
  const spec = scattered(randomMachine(seed, 'b'), seed + 1)
  const { relief } = spec
  return {
    ...spec,
    name: `${kind} ${seed}`,
    unloading: { ...spec.unloading, kind: UNLOADING[kind] },
    relief: kind === 'early' ? { ...relief, crackRatio: relief.crackRatio - 0.08 - 0.17 * random() } : relief,
    duty: dutyOf(kind, random),
  }
}
