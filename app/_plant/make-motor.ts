import type { MotorNameplate } from '@/lib/contract/machine'
import type { Random } from '@/lib/numeric/random'
import { RADS_PER_RPM, W_PER_KW } from '@/lib/units'
import { type Circuit, circuitAt, slipForPower, slipForTorque } from './circuit'

export interface Motor {
  readonly circuit: Circuit
  readonly nameplate: MotorNameplate
}

const POLES = 4

/** Full-load loss share of output a maker of ordinary motors reaches; smaller motors lose more. */
function lossShare(ratedKW: number, random: Random): number {
  return (0.165 - 0.055 * Math.log10(ratedKW)) * (0.85 + 0.3 * random())
}

function roundTo(value: number, digits: number): number {
  return Number(value.toFixed(digits))
}

/**
 * A motor as a maker would design and rate it: circuit parameters scaled in per unit of the rated
 * output and perturbed, then the rated point computed from the circuit and rounded onto the plate.
 * Shares: stator copper 38 %, rotor 22 %, fixed 40 % of the full-load loss (spread ±10 %), from memory.
 */
export function makeMotor(ratedKW: number, frequencyHz: 50 | 60, random: Random): Motor {
  const voltageV = frequencyHz === 50 ? 400 : 460
  const ratedW = ratedKW * W_PER_KW
  const base = (voltageV * voltageV) / ratedW
  const loss = lossShare(ratedKW, random)
  const spread = () => 0.9 + 0.2 * random()
  const currentPu = (1 + loss) / (0.85 + 0.02 * Math.log10(ratedKW))
  const fixed = 0.4 * spread()
  const magnetising = (1.35 + 0.55 * Math.log10(ratedKW)) * (0.88 + 0.24 * random())
  const circuit: Circuit = {
    statorOhm: ((0.6 * loss * spread() * 0.63) / currentPu ** 2) * base,
    rotorOhm: ((0.6 * loss * spread() * 0.37) / (currentPu * 0.88) ** 2) * base,
    deepBar: 1.5 + random(),
    statorLeakageOhm: 0.077 * spread() * base,
    rotorLeakageOhm: 0.065 * spread() * base,
    magnetisingOhm: magnetising * base,
    rotationalLossW: fixed * loss * ratedW,
    poles: POLES,
    frequencyHz,
  }
  return { circuit, nameplate: rate(circuit, ratedKW, voltageV) }
}

/** The plate of a motor: its rated point and no-load current computed from the circuit, then rounded. */
export function rate(circuit: Circuit, ratedKW: number, voltageV: number): MotorNameplate {
  const rated = circuitAt(circuit, voltageV, slipForPower(circuit, voltageV, ratedKW * W_PER_KW))
  const noLoad = circuitAt(circuit, voltageV, slipForTorque(circuit, voltageV, 0, 0.001))
  return {
    ratedPowerKW: ratedKW,
    ratedVoltageV: voltageV,
    ratedCurrentA: roundTo(rated.currentA, rated.currentA < 20 ? 2 : 1),
    ratedPowerFactor: roundTo(rated.powerFactor, 2),
    ratedEfficiency: roundTo(rated.shaftW / rated.inputW, 3),
    ratedSpeedRpm: Math.round(rated.speedRadS / RADS_PER_RPM),
    poles: circuit.poles,
    frequencyHz: circuit.frequencyHz,
    noLoadCurrentA: roundTo(noLoad.currentA, 1),
  }
}
