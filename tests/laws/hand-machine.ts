import { type Machine, machineSchema } from '@/lib/contract/machine'

/**
 * A machine whose every figure can be worked out on paper, and the figures so worked out, apart from lib.
 * The motor's rated speed is the synchronous one, so the pump always turns at 1500 rpm:
 * 60 cm³ give 90 L/min less a leak of 4.5 L/min at 160 bar. Ideal torque 60·160/(20π) = 152.8 Nm is
 * 24 kW; η_hm = .855/.95 = .9 adds 24/.9 − 24 = 2.667 kW of loss, 35 % of it constant (domain default).
 */
export const HAND_MACHINE: Machine = machineSchema.parse({
  version: 1,
  name: 'Hand-worked',
  motor: {
    ratedPowerKW: 30,
    ratedVoltageV: 400,
    ratedCurrentA: 53.92,
    ratedPowerFactor: 0.87,
    ratedEfficiency: 0.923,
    ratedSpeedRpm: 1500,
    poles: 4,
    frequencyHz: 50,
    noLoadCurrentA: 22,
  },
  pump: {
    kind: 'fixed',
    displacementCm3: 60,
    ratedPressureBar: 160,
    ratedSpeedRpm: 1500,
    volumetricEfficiency: 0.95,
    overallEfficiency: 0.855,
  },
  relief: { kind: 'pilot-operated', settingBar: 160, ratedFlowLpm: 85.5 },
  unloading: { kind: 'none', pressureBar: 5 },
})

/** Pump flow at a pressure, L/min. */
export const handFlowLpm = (bar: number) => 90 - (4.5 * bar) / 160

/** Leakage at a pressure, L/min. */
export const handLeakLpm = (bar: number) => (4.5 * bar) / 160

/** Shaft power that becomes friction, kW: 0.35 · 2.6667 constant, the rest with pressure. */
export const handFrictionKW = (bar: number) => (24 / 0.9 - 24) * (0.35 + (0.65 * bar) / 160)

/** Shaft power at full stroke, kW: p·V·n/600 and friction. */
export const handShaftKW = (bar: number) => (bar * 90) / 600 + handFrictionKW(bar)

/** Default share of the loss that is there without load, at 30 kW. */
const NO_LOAD_SHARE = 0.572 - 0.0447 * Math.log(30)
/** Motor loss, kW: rated 30/.923 − 30, a share of it without load, the rest with the square. */
export const handMotorLossKW = (shaftKW: number) =>
  (30 / 0.923 - 30) * (NO_LOAD_SHARE + (1 - NO_LOAD_SHARE) * (shaftKW / 30) ** 2)

/** Electric input at a shaft power, kW. */
export const handInputKW = (shaftKW: number) => shaftKW + handMotorLossKW(shaftKW)

/** Electric input with the pump at full stroke and a pressure, kW. */
export const handRunKW = (bar: number) => handInputKW(handShaftKW(bar))

/** Line current at a shaft power, A: reactive power from 22 A without load to power factor .87 at rated. */
export function handCurrentA(shaftKW: number): number {
  const ratedKVar = (30 / 0.923) * Math.tan(Math.acos(0.87))
  const noLoadKVar = Math.sqrt((Math.sqrt(3) * 0.4 * 22) ** 2 - handMotorLossKW(0) ** 2)
  const kVar = noLoadKVar + (ratedKVar - noLoadKVar) * (shaftKW / 30) ** 2
  return Math.hypot(handInputKW(shaftKW), kVar) / (Math.sqrt(3) * 0.4)
}

/** Pressure at which the healthy relief passes a flow, bar: cracks at .94 · 160, 160 at 85.5 L/min. */
export const handReliefBar = (lpm: number) => 150.4 + (9.6 * lpm) / 85.5
