import { PA_PER_BAR } from '@/lib/units'
import { createDrive, type Drive } from './drive'
import { type Flows, solveNode, type Valves } from './hydraulics'
import type { Run } from './programme'
import type { MachineSpec } from './spec'

export interface PowerUnit {
  readonly drive: Drive
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
/** Largest relative change in a step at which the machine counts as at rest. */
const SETTLED = 1e-7

/**
 * The machine in motion: valve commands follow with a first-order lag, the node at the pump outlet
 * balances at every step, the motor carries the torque. Once all is at rest the last answer stands.
 */
export function createPowerUnit(spec: MachineSpec): PowerUnit {
  const drive = createDrive(spec)
  const ratedM3S = spec.pump.volumeM3 * spec.pump.ratedRadS
  const centreOpen = ratedM3S / Math.sqrt(Math.max(spec.unloading.pressureBar, 1) * PA_PER_BAR)
  const flows: Flows = {
    pressurePa: 0,
    pumpM3S: 0,
    leakM3S: 0,
    actuatorM3S: 0,
    reliefM3S: 0,
    centreM3S: 0,
    stroke: 1,
  }
  const valves: Valves = {
    conductance: ratedM3S / Math.sqrt(LINE_DROP_PA),
    flowLimitM3S: 0,
    loadPa: 0,
    settingPa: spec.relief.settingPa,
    crackPa: spec.relief.settingPa * spec.relief.crackRatio,
    centre: 0,
    compensatorPa: Number.POSITIVE_INFINITY,
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
    settled = true
  }

  return {
    drive,
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
      if (starting) drive.runUp(progress)
      else if (restarts && drive.speedRadS === 0) drive.runUp(1)
      const ramps = run.loadFrom !== run.loadTo
      const load = run.loadFrom + (run.loadTo - run.loadFrom) * (ramps ? progress : 0)
      const hangs = run.kind === 'work-holding' && !run.locked
      const loadPa = hangs ? flows.pressurePa * HANGING_SHARE : load * spec.relief.settingPa
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
      valves.compensatorPa = run.compensatorPa
      const speedRadS = drive.speedRadS
      solveNode(spec.pump, spec.relief, valves, speedRadS, viscosity, flows)
      drive.carry(flows, viscosity, starting, progress)
      moved = Math.max(moved, Math.abs(drive.speedRadS - speedRadS) / speedRadS)
      settled = !ramps && !starting && moved <= SETTLED
    },
  }
}
