import { type Machine, machineSchema } from '@/lib/contract/machine'

/** The contract's worked example of a machine file: a baler's power unit. */
export const BALER: Machine = machineSchema.parse({
  version: 1,
  name: 'Baler 2',
  motor: {
    ratedPowerKW: 22,
    ratedVoltageV: 400,
    ratedCurrentA: 40.2,
    ratedPowerFactor: 0.86,
    ratedEfficiency: 0.92,
    ratedSpeedRpm: 1467,
    poles: 4,
    frequencyHz: 50,
    noLoadCurrentA: 15.8,
  },
  pump: {
    kind: 'fixed',
    displacementCm3: 60,
    ratedPressureBar: 160,
    ratedSpeedRpm: 1470,
    volumetricEfficiency: 0.93,
    overallEfficiency: 0.856,
  },
  relief: { kind: 'pilot-operated', settingBar: 160, ratedFlowLpm: 85 },
  unloading: { kind: 'none', pressureBar: 5 },
})
