import type { Machine, MotorDeclaration, PumpRating } from './machine'

/** A nameplate and how many of its kind there are. */
interface Several<Plate> {
  readonly plate: Plate
  readonly count: number
}

/** Motors on the machine's meter, the first one first. */
export function motorsOf({ motor, furtherSets = [] }: Machine): Several<MotorDeclaration>[] {
  return [
    { plate: motor, count: 1 },
    ...furtherSets.map((set) => ({ plate: set.motor ?? motor, count: set.count })),
  ]
}

/** Pumps that feed the common line, the first one first. */
export function linePumpsOf({ pump, furtherPumps = [], furtherSets = [] }: Machine): Several<PumpRating>[] {
  return [
    { plate: pump, count: 1 },
    ...furtherPumps.flatMap((further) => (further.outlet === 'common' ? [{ plate: further, count: 1 }] : [])),
    ...furtherSets.map((set) => ({ plate: set.pump ?? pump, count: set.count })),
  ]
}

const sumOf = <Plate>(several: readonly Several<Plate>[], of: (plate: Plate) => number) =>
  several.reduce((sum, { plate, count }) => sum + count * of(plate), 0)

/** Displacement of all pumps that feed the common line, cm³ a revolution. */
export const lineDisplacementCm3 = (machine: Machine) =>
  sumOf(linePumpsOf(machine), (plate) => plate.displacementCm3)

/** Rated power of all motors on the meter, kW. */
export const ratedPowerKW = (machine: Machine) => sumOf(motorsOf(machine), (plate) => plate.ratedPowerKW)

/** Every motor with its plate changed. */
export function withMotors(machine: Machine, change: (plate: MotorDeclaration) => MotorDeclaration): Machine {
  const { furtherSets } = machine
  return {
    ...machine,
    motor: change(machine.motor),
    ...(furtherSets && {
      furtherSets: furtherSets.map((set) => (set.motor ? { ...set, motor: change(set.motor) } : set)),
    }),
  }
}

/** True where a pump on the shaft unloads by the line's pressure or feeds a circuit of its own. */
export const hasPumpBesideLine = ({ furtherPumps = [] }: Machine) =>
  furtherPumps.some(({ outlet, unloadsAboveBar }) => outlet !== 'common' || unloadsAboveBar !== undefined)

/** True where a pump gives up the line above a pressure. */
export const hasUnloadingPump = ({ furtherPumps = [] }: Machine) =>
  furtherPumps.some(({ unloadsAboveBar }) => unloadsAboveBar !== undefined)

export const hasFurtherSets = ({ furtherSets = [] }: Machine) => furtherSets.length > 0

/** Highest pressure of the line above which a pump gives it up, bar; nil where none does. */
export const unloadsAboveBar = ({ furtherPumps = [] }: Machine) =>
  Math.max(0, ...furtherPumps.map(({ unloadsAboveBar = 0 }) => unloadsAboveBar))
