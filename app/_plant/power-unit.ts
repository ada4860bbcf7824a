import { PA_PER_BAR } from '@/lib/units'
import { changedParts, pumpOfShare } from './changed-parts'
import { createCharge } from './charge'
import { createDrive, type Drive } from './drive'
import { createFurther, type Motors } from './feeder'
import { type Flows, solveNode, type Valves } from './hydraulics'
import type { Run } from './programme'
import type { Change, FurtherPump, MachineSpec } from './spec'

export interface PowerUnit {
  /** The first motor's shaft. */
  readonly drive: Drive
  readonly motors: Motors
  readonly flows: Flows
  readonly valves: Valves
  /** True while the last answer stands unchanged. */
  readonly settled: boolean
  /** One fine step of `stepS` at `timeS` within `run`. */
  advance(run: Run, timeS: number, stepS: number, viscosity: number): void
}

/** Pressure drop of valves and lines with the whole flow passing. */
const LINE_DROP_PA = 6 * PA_PER_BAR
/** A cylinder that hangs on the pump shows nearly its pressure. */
const HANGING_SHARE = 0.995
/** A load-sensing pump with nothing asked of it keeps at least this. */
const LEAST_STANDBY_PA = 15 * PA_PER_BAR
/** Largest relative change in a step at which the machine counts as at rest. */
const SETTLED = 1e-7

/**
 * The machine in motion: valve commands follow with a first-order lag, the node at the pump outlet
 * balances at every step, the motor carries the torque. Once all is at rest the last answer stands.
 */
export function createPowerUnit(asIs: MachineSpec, change?: Change): PowerUnit {
  const changed = changedParts(asIs, change)
  const pair = change?.id === 'high-low-pumps' ? change : null
  const spec = pair ? { ...changed, pump: pumpOfShare(changed.pump, pair.smallShare) } : changed
  const furtherPumps: readonly FurtherPump[] = pair
    ? [
        {
          pump: pumpOfShare(changed.pump, 1 - pair.smallShare),
          plate: asIs.plates.pump,
          outletBar: null,
          unloadsAboveBar: pair.unloadBar,
        },
      ]
    : (spec.furtherPumps ?? [])
  const charge = change?.id === 'accumulator-charging' ? createCharge(change) : null
  const drive = createDrive(spec)
  const further = createFurther(spec, furtherPumps, drive)
  // What the actuators ask for is that of the machine as it is.
  const ratedM3S = asIs.pump.volumeM3 * asIs.pump.ratedRadS + (pair ? 0 : further.ratedM3S)
  const centreOpen = ratedM3S / Math.sqrt(Math.max(spec.unloading.pressureBar, 1) * PA_PER_BAR)
  const flows: Flows = {
    pressurePa: 0,
    pumpM3S: 0,
    leakM3S: 0,
    actuatorM3S: 0,
    reliefM3S: 0,
    centreM3S: 0,
    stroke: 1,
    speedShare: 1,
  }
  const valves: Valves = {
    conductance: ratedM3S / Math.sqrt(LINE_DROP_PA),
    flowLimitM3S: 0,
    loadPa: 0,
    settingPa: spec.relief.settingPa,
    crackPa: spec.relief.settingPa * spec.relief.crackRatio,
    centre: 0,
    compensatorPa: Number.POSITIVE_INFINITY,
    leastSpeed: null,
    helpers: further.helpers(),
  }
  let last: Run | null = null
  let lastViscosity = 0
  let settled = false
  let gain = 1

  const stop = (run: Run) => {
    Object.assign(flows, {
      pressurePa: 0,
      pumpM3S: 0,
      leakM3S: 0,
      actuatorM3S: 0,
      reliefM3S: 0,
      centreM3S: 0,
    })
    Object.assign(valves, { loadPa: 0, flowLimitM3S: 0, settingPa: run.settingPa, crackPa: run.crackPa })
    drive.stop()
    further.stop()
    settled = true
  }

  return {
    drive,
    motors: further.motors,
    flows,
    valves,
    get settled() {
      return settled
    },
    advance(run, timeS, stepS, viscosity) {
      const restarts = last?.mode !== 'running' && run !== last
      if (run !== last) {
        last = run
        settled = false
        gain = 1 - Math.exp(-stepS / run.switchS)
      }
      if (viscosity !== lastViscosity && run.mode !== 'off') settled = false
      lastViscosity = viscosity
      if (settled) return
      if (run.mode === 'off') {
        stop(run)
        return
      }
      const progress = (timeS - run.startS) / (run.endS - run.startS)
      const starting = run.mode === 'starting'
      for (const one of [drive, ...further.drives]) {
        if (starting) one.runUp(progress)
        else if (restarts && one.speedRadS === 0) one.runUp(1)
      }
      const ramps = run.loadFrom !== run.loadTo
      const load = run.loadFrom + (run.loadTo - run.loadFrom) * (ramps ? progress : 0)
      const hangs = run.kind === 'work-holding' && !run.locked
      const loadPa = hangs ? flows.pressurePa * HANGING_SHARE : load * asIs.relief.settingPa
      // The way the oil goes in idle changes with the valves of the supply, not with those of the actuator.
      const g = restarts ? 1 : gain
      let moved = 0
      const follow = (value: number, target: number) => {
        const next = value + g * (target - value)
        moved = Math.max(moved, Math.abs(next - value) / (Math.abs(next) + 1e-12))
        return next
      }
      valves.flowLimitM3S = follow(valves.flowLimitM3S, run.flow * ratedM3S)
      valves.loadPa = follow(valves.loadPa, loadPa)
      valves.settingPa = follow(valves.settingPa, run.settingPa)
      valves.crackPa = follow(valves.crackPa, run.crackPa)
      valves.centre = follow(valves.centre, run.centreOpen ? centreOpen : 0)
      valves.leastSpeed = run.leastSpeed
      valves.compensatorPa =
        run.marginPa === null
          ? run.compensatorPa
          : Math.min(run.compensatorPa, Math.max(LEAST_STANDBY_PA, valves.loadPa + run.marginPa))
      const speedRadS = drive.speedRadS
      if (charge && !starting) {
        charge.advance(spec, asIs, run, valves, speedRadS, viscosity, stepS, flows)
        moved = 1
      } else solveNode(spec.pump, spec.relief, valves, speedRadS, viscosity, flows)
      const fed = valves.helpers
      if (further.changeOver(flows.pressurePa)) {
        valves.helpers = further.helpers()
        moved = 1
      }
      const beside = further.beside(flows.pressurePa, fed, viscosity)
      drive.carry(flows, viscosity, starting, progress, run.leastSpeed, beside)
      further.addUp(flows, beside, viscosity, starting, progress)
      moved = Math.max(moved, Math.abs(drive.speedRadS - speedRadS) / speedRadS)
      settled = !ramps && !starting && moved <= SETTLED
    },
  }
}
