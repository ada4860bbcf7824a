/** MACHINE.json with every optional part in use. Invented. */
export const machineJson = {
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
  unloading: { kind: 'vented-relief', pressureBar: 5 },
  longestHoldS: 15,
  channels: [
    {
      column: 'P1 [bar]',
      quantity: 'pressure',
      location: 'pump-outlet',
      unit: 'bar',
      scale: { from: [4, 20], to: [0, 250] },
      accuracy: { percentOfFullScale: 0.5, fullScale: 250 },
    },
    { column: 'I [A]', quantity: 'current', accuracy: { percentOfReading: 1 } },
  ],
}
