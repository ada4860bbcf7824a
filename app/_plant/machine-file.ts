import type { ChannelDeclaration, Machine, PumpNameplate, PumpRating } from '@/lib/contract/machine'
import type { MachineSpec, Signal } from './spec'

type Place = Required<Pick<ChannelDeclaration, 'quantity' | 'location'>>

const PLACES: Readonly<Record<Signal, Place>> = {
  pumpPressurePa: { quantity: 'pressure', location: 'pump-outlet' },
  loadPressurePa: { quantity: 'pressure', location: 'load' },
  pumpFlowM3S: { quantity: 'flow', location: 'pump-outlet' },
  systemFlowM3S: { quantity: 'flow', location: 'system-line' },
  reliefFlowM3S: { quantity: 'flow', location: 'relief-return' },
  currentA: { quantity: 'current', location: 'motor-supply' },
  powerW: { quantity: 'power', location: 'motor-supply' },
  oilC: { quantity: 'temperature', location: 'oil' },
  cycleActive: { quantity: 'signal', location: 'cycle-active' },
}

function ratingOf({ kind: _, ...rating }: PumpNameplate): PumpRating {
  return rating
}

/** The machine file a technician would write from the plates: nothing in it comes from the true machine. */
export function machineFile(spec: MachineSpec): Machine {
  return {
    version: 1,
    name: spec.name,
    motor: spec.plates.motor,
    pump: spec.plates.pump,
    relief: spec.plates.relief,
    ...(spec.furtherPumps && {
      furtherPumps: spec.furtherPumps.map(({ plate, outletBar, unloadsAboveBar }) => ({
        ...ratingOf(plate),
        outlet: outletBar === null ? ('common' as const) : { pressureBar: outletBar },
        ...(unloadsAboveBar === null ? {} : { unloadsAboveBar }),
      })),
    }),
    ...(spec.furtherSets && {
      furtherSets: spec.furtherSets.map(({ motor, plate }) => ({
        motor: motor.nameplate,
        pump: ratingOf(plate),
        count: 1,
      })),
    }),
    ...(spec.auxiliaries && {
      auxiliaries: spec.auxiliaries.map(({ name, declaredKW, declaredPowerFactor, when }) => ({
        name,
        powerKW: declaredKW,
        accuracyPercent: 10,
        when,
        powerFactor: declaredPowerFactor,
      })),
    }),
    unloading: spec.unloading,
    ...(spec.longestHoldS === undefined ? {} : { longestHoldS: spec.longestHoldS }),
    channels: spec.sensors.map((sensor) => ({
      column: sensor.column,
      ...PLACES[sensor.signal],
      unit: sensor.unit,
      ...(sensor.declared ? { accuracy: sensor.declared } : {}),
    })),
  }
}
