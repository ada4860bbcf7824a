import { type CircuitPoint, circuitAt, slipForTorque, synchronousRadS } from './circuit'
import type { Flows } from './hydraulics'
import { lossTorque } from './make-pump'
import type { MachineSpec } from './spec'

export interface Drive {
  speedRadS: number
  inputW: number
  currentA: number
  shaftW: number
  motorLossW: number
  pumpLossW: number
  /** Motor off: everything electric is nil. */
  stop(): void
  /** Run-up, before the node is solved: `progress` 0 to 1 of the start. */
  runUp(progress: number): void
  /** After the node is solved at `speedRadS`: what the motor draws, and the speed of the next step. */
  carry(flows: Flows, viscosity: number, starting: boolean, progress: number): void
}

/** Share of a start that the speed needs to come up, and of a star-delta start that is spent in star. */
const RUN_UP_SHARE = 0.8
const STAR_SHARE = 0.75

/** Motor and pump shaft together: torque in, slip, current and losses out. */
export function createDrive(spec: MachineSpec): Drive {
  const { circuit } = spec.motor
  const { pump } = spec
  const synchronous = synchronousRadS(circuit)
  const slipNow = { running: 0.01, starting: 1 }
  const electric = (slip: number, star: boolean): CircuitPoint => {
    if (!star) return circuitAt(circuit, spec.supplyV, slip)
    const point = circuitAt(circuit, spec.supplyV / Math.sqrt(3), slip)
    return { ...point, currentA: point.currentA / Math.sqrt(3) }
  }
  const drive: Drive = {
    speedRadS: 0,
    inputW: 0,
    currentA: 0,
    shaftW: 0,
    motorLossW: 0,
    pumpLossW: 0,
    stop() {
      drive.speedRadS = 0
      drive.inputW = drive.currentA = drive.shaftW = drive.motorLossW = drive.pumpLossW = 0
    },
    runUp(progress) {
      const up = Math.min(1, progress / RUN_UP_SHARE)
      slipNow.starting = 1 - (1 - slipNow.running) * up
      drive.speedRadS = synchronous * (1 - slipNow.starting)
    },
    carry(flows, viscosity, starting, progress) {
      const p = flows.pressurePa
      const lossNm = lossTorque(pump, p, drive.speedRadS, viscosity)
      const torqueNm = pump.volumeM3 * flows.stroke * p + lossNm
      let point: CircuitPoint
      if (starting) point = electric(slipNow.starting, spec.starter === 'star-delta' && progress < STAR_SHARE)
      else {
        slipNow.running = slipForTorque(circuit, spec.supplyV, torqueNm, slipNow.running)
        point = electric(slipNow.running, false)
      }
      drive.inputW = point.inputW
      drive.currentA = point.currentA
      drive.shaftW = torqueNm * drive.speedRadS
      // Kinetic energy of a run-up ends in heat when the motor is stopped: it counts as motor loss.
      drive.motorLossW = point.inputW - drive.shaftW
      drive.pumpLossW = lossNm * drive.speedRadS + p * flows.leakM3S
      if (!starting) drive.speedRadS = point.speedRadS
    },
  }
  return drive
}
