import { PA_PER_BAR, W_PER_KW } from '@/lib/units'
import { type Beside, createDrive, type Drive } from './drive'
import type { Flows, Helper } from './hydraulics'
import { leakage, type TruePump } from './make-pump'
import type { FurtherPump, MachineSpec } from './spec'

/** The large pump of a pair helps again below this share of the unloading pressure. */
const HELPS_AGAIN_SHARE = 0.85

/** All motors of a machine together, as its meter and its oil see them. */
export interface Motors {
  inputW: number
  /** Line current of all motors: active and reactive parts add. */
  currentA: number
  motorLossW: number
  pumpLossW: number
  /** Hydraulic power to tank from unloaded pumps, and into circuits of their own. */
  unloadedW: number
  ownCircuitW: number
}

interface Apart extends Beside {
  readonly further: FurtherPump
}

/** Motors and pumps beside the first ones: which of them feed the line, and what all take together. */
export function createFurther(spec: MachineSpec, furtherPumps: readonly FurtherPump[], first: Drive) {
  const sets = (spec.furtherSets ?? []).map(({ motor, pump }) => ({
    pump,
    drive: createDrive({ ...spec, motor, pump }),
  }))
  const lowPa = Math.max(1, spec.unloading.pressureBar) * PA_PER_BAR
  const isOn = furtherPumps.map(({ outletBar }) => outletBar === null)
  const helperOf = furtherPumps.map(({ pump }): Helper => ({ pump, drive: first }))
  const motors: Motors = {
    inputW: 0,
    currentA: 0,
    motorLossW: 0,
    pumpLossW: 0,
    unloadedW: 0,
    ownCircuitW: 0,
  }
  const helpers = (): Helper[] => [...helperOf.filter((_, k) => isOn[k]), ...sets]
  const apartOf = (further: FurtherPump, pressurePa: number, viscosity: number): Apart => ({
    further,
    pump: further.pump,
    pressurePa,
    leakM3S: leakage(further.pump, pressurePa, viscosity),
  })
  const deliveredW = ({ pump, pressurePa, leakM3S }: Beside) =>
    pressurePa * (pump.volumeM3 * first.speedRadS - leakM3S)

  return {
    motors,
    helpers,
    drives: sets.map(({ drive }) => drive),
    /** Total displacement of what feeds the line beside the first pump, as flow at rated speed. */
    ratedM3S: [...furtherPumps.filter(({ outletBar }) => outletBar === null), ...sets].reduce(
      (sum, { pump }: { readonly pump: TruePump }) => sum + pump.volumeM3 * pump.ratedRadS,
      0,
    ),
    /** Pumps that unload by the line's pressure change over; true where one did. */
    changeOver(pressurePa: number): boolean {
      let changed = false
      furtherPumps.forEach(({ outletBar, unloadsAboveBar, valve }, k) => {
        if (outletBar !== null || unloadsAboveBar === null) return
        const fromPa = (valve?.opensBar ?? unloadsAboveBar) * PA_PER_BAR
        const againPa = valve ? valve.closesBar * PA_PER_BAR : HELPS_AGAIN_SHARE * fromPa
        const on = isOn[k] ? !(pressurePa > fromPa) : pressurePa < againPa
        if (on !== isOn[k]) changed = true
        isOn[k] = on
      })
      return changed
    },
    /** What the further pumps on the first shaft work against after the node is solved. */
    beside(pressurePa: number, fedBefore: readonly Helper[], viscosity: number): Beside[] {
      return furtherPumps.map((further, k) => {
        if (further.outletBar !== null) return apartOf(further, further.outletBar * PA_PER_BAR, viscosity)
        if (fedBefore.includes(helperOf[k])) return { pump: further.pump, pressurePa, leakM3S: 0 }
        return apartOf(further, lowPa, viscosity)
      })
    },
    /** Once the first shaft carries its torque: the other motors carry theirs, and all are added up. */
    addUp(flows: Flows, beside: readonly Beside[], viscosity: number, starting: boolean, progress: number) {
      motors.inputW = first.inputW
      motors.currentA = first.currentA
      motors.motorLossW = first.motorLossW
      motors.pumpLossW = first.pumpLossW
      motors.unloadedW = 0
      motors.ownCircuitW = 0
      furtherPumps.forEach(({ outletBar }, k) => {
        if (outletBar !== null) motors.ownCircuitW += deliveredW(beside[k])
        else if (beside[k].leakM3S > 0) motors.unloadedW += deliveredW(beside[k])
      })
      if (sets.length === 0) return
      // Leakage at the node is counted with the first pump.
      const withoutLeak = { ...flows, leakM3S: 0 }
      for (const { drive } of sets) {
        drive.carry(withoutLeak, viscosity, starting, progress, null, [])
        motors.inputW += drive.inputW
        motors.motorLossW += drive.motorLossW
        motors.pumpLossW += drive.pumpLossW
      }
      motors.currentA = lineCurrentA(
        [first, ...sets.map(({ drive }) => drive)].map(({ inputW, currentA }) => ({
          activeW: inputW,
          reactiveVar: Math.sqrt(Math.max(0, 3 * (spec.supplyV * currentA) ** 2 - inputW ** 2)),
        })),
        spec.supplyV,
      )
    },
    stop() {
      for (const { drive } of sets) drive.stop()
      Object.assign(motors, {
        inputW: 0,
        currentA: 0,
        motorLossW: 0,
        pumpLossW: 0,
        unloadedW: 0,
        ownCircuitW: 0,
      })
    },
  }
}

interface Load {
  readonly activeW: number
  readonly reactiveVar: number
}

/** Line current of loads together, A. */
function lineCurrentA(loads: readonly Load[], supplyV: number): number {
  const activeW = loads.reduce((sum, load) => sum + load.activeW, 0)
  const reactiveVar = loads.reduce((sum, load) => sum + load.reactiveVar, 0)
  return Math.hypot(activeW, reactiveVar) / Math.sqrt(3) / supplyV
}

/** Auxiliaries behind the meter while the motors stand and while they run. */
export function auxiliaryLoads(spec: MachineSpec) {
  const loadOf = (list: NonNullable<MachineSpec['auxiliaries']>): Load => ({
    activeW: list.reduce((sum, { powerKW }) => sum + powerKW * W_PER_KW, 0),
    reactiveVar: list.reduce(
      (sum, { powerKW, powerFactor }) => sum + powerKW * W_PER_KW * Math.sqrt(1 / powerFactor ** 2 - 1),
      0,
    ),
  })
  const all = spec.auxiliaries ?? []
  const standing = loadOf(all.filter(({ when }) => when === 'always'))
  const running = loadOf(all)
  return {
    /** Their power now, W. */
    powerW: (motorsRun: boolean) => (motorsRun ? running : standing).activeW,
    /** What a clamp around the whole feeder reads, A. */
    currentA: (motors: Motors, motorsRun: boolean) => {
      const beside = motorsRun ? running : standing
      if (beside.activeW === 0) return motors.currentA
      const reactiveVar = Math.sqrt(
        Math.max(0, 3 * (spec.supplyV * motors.currentA) ** 2 - motors.inputW ** 2),
      )
      return lineCurrentA([beside, { activeW: motors.inputW, reactiveVar }], spec.supplyV)
    },
  }
}
