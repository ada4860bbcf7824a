import type { ReliefNameplate } from '@/lib/contract/machine'
import type { Random } from '@/lib/numeric/random'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'

/** A relief valve as it really is: a rounded toe around cracking, then a slightly bent rise to rated flow at the setting. */
export interface TrueRelief {
  readonly settingPa: number
  readonly crackRatio: number
  readonly ratedM3S: number
  /** 1 is a straight rise; a little above, the valve opens progressively. */
  readonly curve: number
  /** Width of the toe as a share of the override band. */
  readonly toe: number
  /** Flow that a worn seat passes at any pressure, m³/s per Pa. */
  readonly seatLeak: number
}

/** Relief flow in m³/s at a pressure, with the setting and cracking in force (a vented spool has lower ones). */
export function reliefFlow(
  relief: TrueRelief,
  pressurePa: number,
  settingPa: number,
  crackPa: number,
): number {
  const lift = (pressurePa - crackPa) / (settingPa - crackPa)
  const scaled = lift / relief.toe
  const open = scaled > 30 ? lift : scaled < -30 ? 0 : relief.toe * Math.log1p(Math.exp(scaled))
  const shaped = relief.curve === 1 ? open : open ** relief.curve
  return relief.ratedM3S * shaped + relief.seatLeak * Math.max(0, pressurePa)
}

export interface ReliefWish {
  readonly kind: ReliefNameplate['kind']
  readonly settingBar: number
  readonly ratedFlowLpm: number
  /** True setting over the plate's; 1 where nobody touched it. */
  readonly drift?: number
  /** Overrules what the kind should do: a valve that cracks early. */
  readonly crackRatio?: number
  /** Share of rated flow that passes at the setting through a worn seat. */
  readonly leakShare?: number
}

/** A relief valve of its kind: pilot-operated cracks at 0.90–0.98 of the setting, direct-acting near 0.8 (common practice). */
export function makeRelief(
  wish: ReliefWish,
  random: Random,
): { relief: TrueRelief; nameplate: ReliefNameplate } {
  const usual = wish.kind === 'pilot-operated' ? 0.9 + 0.08 * random() : 0.78 + 0.04 * random()
  const settingPa = wish.settingBar * PA_PER_BAR * (wish.drift ?? 0.99 + 0.02 * random())
  const ratedM3S = wish.ratedFlowLpm * M3S_PER_LPM
  return {
    relief: {
      settingPa,
      crackRatio: wish.crackRatio ?? usual,
      ratedM3S,
      curve: 1 + 0.1 * random(),
      toe: 0.02 + 0.03 * random(),
      seatLeak: ((wish.leakShare ?? 0) * ratedM3S) / settingPa,
    },
    nameplate: { kind: wish.kind, settingBar: wish.settingBar, ratedFlowLpm: wish.ratedFlowLpm },
  }
}
