import { W_PER_KW } from '@/lib/units'
import { type Circuit, type CircuitPoint, circuitAt, slipForTorque, synchronousRadS } from './circuit'
import type { Flows } from './hydraulics'
import { lossTorque, type TruePump } from './make-pump'
import type { MachineSpec } from './spec'

/** A further pump on a shaft at an instant. */
export interface Beside {
  readonly pump: TruePump
  readonly pressurePa: number
  /** What leaks apart from the node, where it does not feed the line, m³/s. */
  readonly leakM3S: number
}

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
  /**
   * After the node is solved at `speedRadS`: what the motor draws, and the speed of the next step. `beside` are
   * further pumps on the shaft and the pressures they work against. Leakage at the node is in `flows`.
   */
  carry(
    flows: Flows,
    viscosity: number,
    starting: boolean,
    progress: number,
    leastSpeed: number | null,
    beside: readonly Beside[],
  ): void
}

/**
 * Loss of a frequency converter: always, as a share of the motor's rated input, less in larger ones, and in
 * proportion to its output. A line laid by eye through the published drive efficiencies (US DOE tip sheet 11).
 */
const converterFixedShare = (ratedKW: number) => 0.033 - 0.011 * Math.log10(ratedKW)
const CONVERTER_SHARE = 0.016
/** Core, friction and windage fade with about this power of speed (from memory). */
const FIXED_LOSS_EXPONENT = 1.4

/** The motor's circuit at a share of its frequency. */
function slowed(circuit: Circuit, share: number): Circuit {
  return {
    ...circuit,
    statorLeakageOhm: circuit.statorLeakageOhm * share,
    rotorLeakageOhm: circuit.rotorLeakageOhm * share,
    magnetisingOhm: circuit.magnetisingOhm * share,
    rotationalLossW: circuit.rotationalLossW * share ** FIXED_LOSS_EXPONENT,
    frequencyHz: circuit.frequencyHz * share,
  }
}

/** Share of a start that the speed needs to come up, and of a star-delta start that is spent in star. */
const RUN_UP_SHARE = 0.8
const STAR_SHARE = 0.75

/** Motor and pump shaft together: torque in, slip, current and losses out. */
export function createDrive(spec: MachineSpec): Drive {
  const { circuit } = spec.motor
  const { pump } = spec
  const synchronous = synchronousRadS(circuit)
  const slipNow = { running: 0.01, starting: 1, slowed: 0.01 }
  const plate = spec.motor.nameplate
  const ratedInputW = (plate.ratedPowerKW * W_PER_KW) / plate.ratedEfficiency
  /** On a converter at a share of full speed: voltage with frequency, and the stator's drop made up for. */
  const converted = (torqueNm: number, share: number): CircuitPoint => {
    const dropV = Math.sqrt(3) * plate.ratedCurrentA * circuit.statorOhm * (1 - share)
    const voltageV = spec.supplyV * share + dropV
    const at = slowed(circuit, share)
    slipNow.slowed = slipForTorque(at, voltageV, torqueNm, slipNow.slowed)
    const point = circuitAt(at, voltageV, slipNow.slowed)
    const lossW = converterFixedShare(plate.ratedPowerKW) * ratedInputW + CONVERTER_SHARE * point.inputW
    return { ...point, inputW: point.inputW + lossW }
  }
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
    carry(flows, viscosity, starting, progress, leastSpeed, beside) {
      const p = flows.pressurePa
      const turnsRadS = drive.speedRadS * flows.speedShare
      const lossNm = lossTorque(pump, p, turnsRadS, viscosity)
      let torqueNm = pump.volumeM3 * flows.stroke * p + lossNm
      let besideW = 0
      for (const { pump, pressurePa, leakM3S } of beside) {
        const besideNm = lossTorque(pump, pressurePa, turnsRadS, viscosity)
        torqueNm += pump.volumeM3 * pressurePa + besideNm
        besideW += besideNm * turnsRadS + pressurePa * leakM3S
      }
      let point: CircuitPoint
      if (starting) point = electric(slipNow.starting, spec.starter === 'star-delta' && progress < STAR_SHARE)
      else {
        slipNow.running = slipForTorque(circuit, spec.supplyV, torqueNm, slipNow.running)
        point = electric(slipNow.running, false)
      }
      if (leastSpeed !== null && !starting)
        point = { ...converted(torqueNm, flows.speedShare), speedRadS: point.speedRadS }
      drive.inputW = point.inputW
      drive.currentA = point.currentA
      drive.shaftW = torqueNm * turnsRadS
      // Kinetic energy of a run-up ends in heat when the motor is stopped: it counts as motor loss.
      drive.motorLossW = point.inputW - drive.shaftW
      drive.pumpLossW = lossNm * turnsRadS + p * flows.leakM3S + besideW
      if (!starting) drive.speedRadS = point.speedRadS
    },
  }
  return drive
}
