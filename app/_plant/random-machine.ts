import { normal, type Random, seededRandom } from '@/lib/numeric/random'
import { M3_PER_CM3, M3S_PER_LPM, PA_PER_BAR, RADS_PER_RPM, W_PER_KW } from '@/lib/units'
import type { Duty, Range, Step } from './duty'
import { makeMotor } from './make-motor'
import { makePump } from './make-pump'
import { makeRelief } from './make-relief'
import { makeSensor, nextFullScale } from './make-sensor'
import type { MachineSpec, Sensor } from './spec'

/** Sensor sets: (a) line flow and current, (b) pump flow and current, (c) everything and real power. */
export type SensorCase = 'a' | 'b' | 'c'

const SIZES_KW = [5.5, 7.5, 11, 15, 18.5, 22, 30, 37, 45, 55, 75]
const RATED_RPM = 1470

/** A machine drawn at random: any size, any efficiency, any of the ways machines idle. */
export function randomMachine(seed: number, sensors: SensorCase): MachineSpec {
  const random = seededRandom(Math.imul(seed, 0x9e3779b1))
  const between = (low: number, high: number) => low + (high - low) * random()
  const pick = <T>(list: readonly T[]) => list[Math.floor(random() * list.length)]
  const ratedKW = pick(SIZES_KW)
  const motor = makeMotor(ratedKW, 50, random)
  const settingBar = 5 * Math.round(between(70, 250) / 5)
  const volumetricEfficiency = between(0.88, 0.95)
  const overallEfficiency = volumetricEfficiency * between(0.87, 0.94)
  const load = between(0.75, 1.05)
  const flowM3S = (load * ratedKW * W_PER_KW * overallEfficiency) / (settingBar * PA_PER_BAR)
  const litre = flowM3S / volumetricEfficiency / (RATED_RPM * RADS_PER_RPM) / M3_PER_CM3
  const displacementCm3 = Math.max(4, Math.round(litre * 2 * Math.PI))
  const { pump, nameplate: pumpPlate } = makePump(
    { displacementCm3, ratedPressureBar: settingBar, volumetricEfficiency, overallEfficiency },
    random,
  )
  const flowLpm = (pump.volumeM3 * pump.ratedRadS * volumetricEfficiency) / M3S_PER_LPM
  const { relief, nameplate: reliefPlate } = makeRelief(
    {
      kind: random() < 0.7 ? 'pilot-operated' : 'direct-acting',
      settingBar,
      ratedFlowLpm: Math.round(flowLpm * between(1, 1.12)),
    },
    random,
  )
  const unloadingKind = pick(['none', 'none', 'vented-relief', 'open-centre'] as const)
  const settledC = between(42, 54)
  return {
    name: `random ${sensors}${seed}`,
    motor,
    plates: { motor: motor.nameplate, pump: pumpPlate, relief: reliefPlate },
    supplyV: motor.nameplate.ratedVoltageV * (1 + 0.006 * Math.max(-2, Math.min(2, normal(random)))),
    starter: 'direct',
    pump,
    relief,
    unloading: { kind: unloadingKind, pressureBar: Number(between(3, 7).toFixed(1)) },
    duty: randomDuty(unloadingKind === 'none', sensors !== 'c', random),
    oil: { startC: settledC - between(0, 8), settledC, timeConstantS: 1500 },
    sensors: sensorSet(sensors, settingBar, flowLpm, motor.nameplate.ratedCurrentA, ratedKW),
  }
}

function sensorSet(sensors: SensorCase, bar: number, lpm: number, amps: number, ratedKW: number): Sensor[] {
  const pressure = makeSensor('pumpPressurePa', nextFullScale(bar))
  const flow = { offsetPercent: 0.7, noisePercent: 0.3 }
  const flowScale = nextFullScale(lpm * 1.05)
  const current = makeSensor('currentA', nextFullScale(amps * 1.2), { offsetPercent: 0.7 })
  switch (sensors) {
    case 'a':
      return [pressure, makeSensor('systemFlowM3S', flowScale, flow), current]
    case 'b':
      return [pressure, makeSensor('pumpFlowM3S', flowScale, flow), current]
    case 'c':
      return [
        pressure,
        makeSensor('loadPressurePa', nextFullScale(bar)),
        makeSensor('pumpFlowM3S', flowScale, flow),
        makeSensor('reliefFlowM3S', flowScale, flow),
        makeSensor('powerW', nextFullScale(ratedKW * 1.2)),
      ]
  }
}

/**
 * Without a load pressure a hold and an idle look alike but for their length: there idles are longer
 * than the longest hold and holds never run straight into them.
 */
function randomDuty(idlesLoaded: boolean, blind: boolean, random: Random): Duty {
  const between = (low: number, high: number) => low + (high - low) * random()
  const around = (value: number, share: number): Range => [value * (1 - share), value * (1 + share)]
  const moving = (seconds: number): Step => ({
    kind: 'work-moving',
    durationS: around(seconds, 0.1),
    load: around(between(0.12, 0.45), 0.08),
  })
  const steps: Step[] = [moving(between(2, 6))]
  const presses = 1 + Math.floor(random() * 2)
  for (let i = 0; i < presses; i += 1) {
    steps.push({
      kind: 'work-metering',
      durationS: around(between(3, 12), 0.15),
      load: around(between(0.3, 0.65), 0.06),
      rise: between(0, 0.2),
      flow: around(between(0.2, 0.75), 0.06),
    })
  }
  if (random() < 0.6) {
    const locked: Range = around(between(0.4, 0.8), 0.05)
    steps.push({
      kind: 'work-holding',
      durationS: around(between(2, 8), 0.15),
      flow: [0, 0.01],
      ...(random() < 0.5 ? { lockedLoad: locked } : {}),
    })
  }
  steps.push(moving(between(2, 5)))
  const shortest = idlesLoaded && blind ? 20 : 6
  const idle = between(shortest, shortest + 30)
  return {
    steps,
    idleKind: idlesLoaded ? 'idle-loaded' : 'idle-unloaded',
    idleS: [idle, idle * between(1.2, 2)],
    pause: { share: 0.08, durationS: [60, 180], stopShare: 0.4 },
    stoppedS: [8, 25],
    startS: [0.4, 1],
  }
}
