import type { Motor } from './make-motor'
import type { TruePump } from './make-pump'
import type { Change, MachineSpec } from './spec'

/** A pump of the same make with this share of the displacement: leakage and drags shrink with it. */
export function pumpOfShare(pump: TruePump, share: number): TruePump {
  return {
    ...pump,
    volumeM3: pump.volumeM3 * share,
    leakM3S: pump.leakM3S * share,
    dragNm: pump.dragNm * share,
    shearNm: pump.shearNm * share,
    frictionNm: pump.frictionNm * share,
    squareNm: pump.squareNm * share,
  }
}

/** A motor of the same build with its resistances and fixed losses reduced until its full-load loss is that of an efficiency. */
function motorOfEfficiency(motor: Motor, efficiency: number): Motor {
  const share = (1 / efficiency - 1) / (1 / motor.nameplate.ratedEfficiency - 1)
  const { circuit } = motor
  return {
    ...motor,
    circuit: {
      ...circuit,
      statorOhm: circuit.statorOhm * share,
      rotorOhm: circuit.rotorOhm * share,
      rotationalLossW: circuit.rotationalLossW * share,
    },
  }
}

/** The machine with the part that a change replaces; changes of circuits and controls leave it as it is. */
export function changedParts(spec: MachineSpec, change: Change | undefined): MachineSpec {
  switch (change?.id) {
    case 'smaller-pump':
    case 'accumulator-charging':
      return { ...spec, pump: pumpOfShare(spec.pump, change.pumpShare) }
    case 'restore-pump': {
      const leakM3S = spec.pump.volumeM3 * spec.pump.ratedRadS * (1 - spec.plates.pump.volumetricEfficiency)
      return { ...spec, pump: { ...spec.pump, leakM3S } }
    }
    case 'replace-relief-valve': {
      // Set as such valves are set: the whole flow passes at the pressure it had.
      const { settingPa, ratedM3S, seatLeak } = spec.relief
      const crackRatio = Math.max(spec.relief.crackRatio, change.crackRatio)
      const leakShare = (seatLeak * settingPa) / ratedM3S
      const fullFlowPa = settingPa * (1 - leakShare * (1 - spec.relief.crackRatio))
      return { ...spec, relief: { ...spec.relief, settingPa: fullFlowPa, crackRatio, seatLeak: 0 } }
    }
    case 'efficient-motor':
      return { ...spec, motor: motorOfEfficiency(spec.motor, change.ratedEfficiency) }
    default:
      return spec
  }
}
