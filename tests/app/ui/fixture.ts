import { BALER } from '../../invented/baler'

/** MACHINE.json with every optional part in use. Invented. */
export const machineJson = {
  ...BALER,
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
