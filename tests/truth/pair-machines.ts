import { makeSensor, nextFullScale } from '@/app/_plant/make-sensor'
import { randomMachine } from '@/app/_plant/random-machine'
import type { MachineSpec, Sensor, Signal } from '@/app/_plant/spec'
import { normal, seededRandom } from '@/lib/numeric/random'
import { cm3Of, enlarged, furtherPump, withFirstPump } from './several-machines'

/**
 * High–low pairs drawn at random: split, unloading pressure, width of the latch between unloading and feeding again,
 * an unloading valve set a little beside its plate, meters and their noise. Their cycles pass the pressures between
 * feeding again and unloading from both sides: a stroke after an idle comes from below, one after a hold from above.
 */
export const PAIR_METERS = {
  'line flow, current': ['systemFlowM3S', 'currentA'],
  'line flow, power': ['systemFlowM3S', 'powerW'],
  'relief flow, power': ['reliefFlowM3S', 'powerW'],
  'all, power': ['loadPressurePa', 'pumpFlowM3S', 'systemFlowM3S', 'reliefFlowM3S', 'powerW'],
} as const satisfies Record<string, readonly Signal[]>
export type PairMeters = keyof typeof PAIR_METERS

/** Most that the shaft carries at the unloading pressure, as a share of what it carries at the relief's with one pump. */
const LOADED_SHARE = 0.9
/** What valves and lines of the invented plant lose with the whole flow, bar. */
const LINE_BAR = 6

function meters(fitted: readonly Signal[], spec: MachineSpec, flowLpm: number, noisePercent: number) {
  const { motor, relief } = spec.plates
  const pressures = nextFullScale(relief.settingBar)
  const scales: Partial<Record<Signal, number>> = {
    loadPressurePa: pressures,
    currentA: nextFullScale(motor.ratedCurrentA * 1.2),
    powerW: nextFullScale(motor.ratedPowerKW * 1.3),
  }
  const flow = { offsetPercent: 0.7, noisePercent }
  return [
    makeSensor('pumpPressurePa', pressures, { noisePercent }),
    ...fitted.map((signal): Sensor => {
      const fullScale = scales[signal]
      return fullScale === undefined
        ? makeSensor(signal, nextFullScale(flowLpm * 1.05), flow)
        : makeSensor(signal, fullScale, { noisePercent })
    }),
  ]
}

export function pairMachine(seed: number, metersFitted: PairMeters): MachineSpec {
  const fitted: readonly Signal[] = PAIR_METERS[metersFitted]
  // Without a load pressure idles are longer than holds.
  const base = randomMachine(seed, fitted.includes('loadPressurePa') ? 'c' : 'a')
  const random = seededRandom(seed ^ 0x9a1f)
  const between = (low: number, high: number) => low + (high - low) * random()
  const around = (value: number, share: number) => [value * (1 - share), value * (1 + share)] as const
  const setting = base.plates.relief.settingBar
  const smallShare = between(0.2, 0.5)
  const unloads = between(0.35, 0.65)
  const size = Math.min(1 / smallShare, LOADED_SHARE / unloads)
  const wholeCm3 = size * cm3Of(base)
  const unloadsAboveBar = Math.round(unloads * setting)
  // Narrower than what lines lose with both pumps less what they lose with one, a latch would hunt.
  const width = Math.max(between(0.08, 0.35), (1.5 * LINE_BAR) / unloadsAboveBar)
  const opensBar = unloadsAboveBar * (1 + 0.012 * Math.max(-2, Math.min(2, normal(random))))
  const noisePercent = [0.1, 0.2, 0.5, 1, 2][Math.floor(5 * random())]
  const spec = withFirstPump(enlarged(base, size, 1), smallShare * wholeCm3, random)
  const flowLpm = (wholeCm3 / cm3Of(base)) * base.plates.relief.ratedFlowLpm
  const inLatch = unloads * (1 - width / 2) - LINE_BAR / 2 / setting
  const metered = around(between(0.3, 0.75) * smallShare, 0.06)
  const fast = { kind: 'work-moving', durationS: around(between(2, 5), 0.1) } as const
  const slow = {
    kind: 'work-moving',
    durationS: around(between(3, 8), 0.1),
    load: around(inLatch, 0.01),
  } as const
  return {
    ...spec,
    name: `pair ${seed} ${metersFitted}`,
    furtherPumps: [
      {
        ...furtherPump(base, (1 - smallShare) * wholeCm3, random, { unloadsAboveBar }),
        valve: { opensBar, closesBar: opensBar * (1 - width) },
      },
    ],
    duty: {
      ...base.duty,
      steps: [
        { ...fast, load: around(between(0.1, 0.2), 0.08) },
        ...(random() < 0.6 ? [slow] : []),
        ...(random() < 0.5
          ? [{ ...fast, load: around(0.4 * unloads, 0.05), rise: 0.75 - 0.4 * unloads }]
          : []),
        {
          kind: 'work-metering',
          durationS: around(between(3, 9), 0.15),
          load: around(between(0.3, 0.65), 0.06),
          flow: metered,
        },
        { kind: 'work-holding', durationS: around(between(2, 6), 0.15), flow: [0, 0.004] },
        ...(random() < 0.8 ? [slow] : []),
        { ...fast, load: around(between(0.1, 0.2), 0.08) },
      ],
    },
    sensors: meters(fitted, spec, flowLpm, noisePercent),
  }
}
