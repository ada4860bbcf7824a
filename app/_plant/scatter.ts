import { normal, seededRandom } from '@/lib/numeric/random'
import { W_PER_KW } from '@/lib/units'
import { type Motor, rate } from './make-motor'
import type { MachineSpec, Signal } from './spec'

/** Machines in service part from their plates by about this much (1 sd, as a share): common practice, no source. */
const DISPLACEMENT_SD = 0.009
const TORQUE_SD = 0.13
const CONSTANT_TORQUE_SD = 0.2
const LEAKAGE_SD = 0.25
/** Loss on a motor's plate over its true loss: a plate may promise up to 15 % too little (IEC 60034-1, from memory). */
const PLATE_LOSS_SD = 0.04
/** Share of a motor's loss that is there without load: 0.45 ± 0.2, 95 % (the project's domain rules). */
const FIXED_LOSS_SHARE = 0.45
const FIXED_LOSS_SD = 0.1
const SUPPLY_SD = 0.008
/** Shares of machines whose pump is worn, whose relief weeps a little, and whose plate tells the no-load current. */
const WORN_SHARE = 0.1
const WEEPING_SHARE = 0.3
const NO_LOAD_TOLD_SHARE = 0.7
/** Flow and power meters lag by up to this much, s (common practice, no source). */
const METER_LAG_S = 0.12

const METERS: readonly Signal[] = ['pumpFlowM3S', 'systemFlowM3S', 'reliefFlowM3S', 'powerW']

/** A motor of the same loss at its rated point, shared otherwise between iron and friction and copper. */
function withFixedLoss({ circuit, nameplate }: Motor, share: number): Motor {
  const lossW = nameplate.ratedPowerKW * W_PER_KW * (1 / (nameplate.ratedEfficiency ?? 1) - 1)
  const copper = (1 - share) / (1 - circuit.rotationalLossW / lossW)
  const shared = {
    ...circuit,
    rotationalLossW: share * lossW,
    statorOhm: circuit.statorOhm * copper,
    rotorOhm: circuit.rotorOhm * copper,
  }
  return { circuit: shared, nameplate: rate(shared, nameplate.ratedPowerKW, nameplate.ratedVoltageV) }
}

/** The same machine as one met in service: every part away from its plate by chance, some pumps worn. */
export function scattered(spec: MachineSpec, seed: number): MachineSpec {
  const random = seededRandom(Math.imul(seed, 0x85ebca6b))
  const chance = () => Math.max(-2.5, Math.min(2.5, normal(random)))
  const about = (sd: number) => 1 + sd * chance()
  const { pump, relief, plates } = spec
  const motor = withFixedLoss(spec.motor, FIXED_LOSS_SHARE + FIXED_LOSS_SD * chance())
  const torque = about(TORQUE_SD)
  const constant = about(CONSTANT_TORQUE_SD)
  const worn = random() < WORN_SHARE ? 1.5 + 1.5 * random() : 1
  const { noLoadCurrentA, ratedEfficiency, ...plate } = motor.nameplate
  const plateLoss = (1 / (ratedEfficiency ?? 1) - 1) * about(PLATE_LOSS_SD)
  const weeping = random() < WEEPING_SHARE ? 0.012 * random() : 0
  return {
    ...spec,
    motor,
    supplyV: plate.ratedVoltageV * about(SUPPLY_SD),
    pump: {
      ...pump,
      volumeM3: pump.volumeM3 * about(DISPLACEMENT_SD),
      leakM3S: pump.leakM3S * about(LEAKAGE_SD) * worn,
      dragNm: pump.dragNm * torque * constant,
      shearNm: pump.shearNm * torque * constant,
      frictionNm: pump.frictionNm * torque,
      squareNm: pump.squareNm * torque,
    },
    meterLagS: Object.fromEntries(METERS.map((signal) => [signal, Math.max(0.01, METER_LAG_S * random())])),
    relief: { ...relief, seatLeak: relief.seatLeak + (weeping * relief.ratedM3S) / relief.settingPa },
    plates: {
      ...plates,
      motor: {
        ...plate,
        ratedEfficiency: Number((1 / (1 + plateLoss)).toFixed(3)),
        ...(random() < NO_LOAD_TOLD_SHARE ? { noLoadCurrentA } : {}),
      },
    },
  }
}
