import { hasPumpBesideLine, lineDisplacementCm3 } from '@/lib/contract/arrangement'
import {
  FAST_EXPONENT,
  gasVolumeM3,
  PRECHARGE_SHARE,
  SLOW_EXPONENT,
  SLOW_FROM_S,
  usableVolumeM3,
} from '@/lib/machine/accumulator'
import { ATMOSPHERE_PA, PA_PER_BAR } from '@/lib/units'
import { askedM3S, type Charging, chargedBy, deepestNeedM3, RELOAD_SHARE, reloadPa } from '../charging'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, type OptionContext, refused, type Tried } from '../option'
import { evenly, refusedSetting, savedShareOf } from '../settings'

/** The lowest charge lies this much above the highest need, the highest this much below the relief setting. */
const MARGIN_BAR = 10
/** Closer together than this the two pressures make a large accumulator of a small need. */
const LEAST_BAND_SHARE = 1.05
/** Charging pumps tried are whole multiples of this share of the present pump, with room above the mean demand. */
const SIZE_STEP = 0.05
const MEAN_DEMAND_MARGIN = 1.1
/** Highest pressures shown with the pump chosen, each with the accumulator that goes with it. */
const BANDS_SHOWN = 6
/** Largest gas volume proposed, L: beyond this the pump is too small (common practice, no source). */
const MOST_GAS_LITRES = 200
const LITRES_PER_M3 = 1000

/** Real gas, heat and valves beyond the polytropic relation (common practice, no source). */
const REPLAY_SHARE_SD = 0.02

const CAUTIONS = [
  note('pressure-equipment'),
  note('lockout-stored-energy'),
  note('flow-set-by-valves'),
  note('confirm-unlogged-loads'),
  note('safety-reassessment'),
  note('qualified-person'),
]

interface Band {
  readonly lowPa: number
  readonly highPa: number
}

/**
 * The accumulator for a charging pump of this share of the present one, sized so that its charge never falls below
 * the lowest, or of the gas volume given; null where none is practical, or the one given too small.
 */
function sized(
  pumpShare: number,
  { supply, model }: Pick<OptionContext, 'supply' | 'model'>,
  { lowPa, highPa }: Band,
  givenLitres: number | null = null,
): Charging | null {
  const chargeM3S =
    pumpShare * model.pump.flowM3S(highPa, model.motor.speedRadS(pumpShare * model.pump.torqueNm(highPa)))
  // Charging begins when a share is gone; from there on as much as ever may be missing more.
  const needM3 = deepestNeedM3(supply, chargeM3S) / (1 - RELOAD_SHARE)
  if (!(needM3 > 0)) return null
  const exponent = needM3 / chargeM3S > SLOW_FROM_S ? SLOW_EXPONENT : FAST_EXPONENT
  const prechargePa = PRECHARGE_SHARE * (lowPa + ATMOSPHERE_PA) - ATMOSPHERE_PA
  const leastLitres = LITRES_PER_M3 * gasVolumeM3(needM3, prechargePa, lowPa, highPa, exponent)
  const litres = givenLitres ?? Math.ceil(leastLitres)
  const gasM3 = litres / LITRES_PER_M3
  const usableM3 = usableVolumeM3(gasM3, prechargePa, lowPa, highPa, exponent)
  return litres <= MOST_GAS_LITRES && litres >= leastLitres
    ? { pumpShare, lowPa, highPa, prechargePa, gasM3, usableM3, exponent }
    : null
}

/**
 * A smaller pump charges an accumulator between two pressures and unloads in between; strokes and holds live
 * on the charge. Every stroke gets its oil at the accumulator's pressure, so light strokes cost more.
 */
export const accumulatorCharging: Option = {
  id: 'accumulator-charging',
  plan(context, given = {}) {
    const { machine, supply, model, duty } = context
    const settings = { pumpCm3: null, lowBar: null, reloadBar: null, highBar: null, gasLitres: null }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings, CAUTIONS)
    if (hasPumpBesideLine(machine)) return notJudged(note('several-pumps'), settings)
    const needPa = leastPressurePa(machine, highestNeedPa(supply))
    if (Number.isNaN(needPa)) return notJudged(note('needs-load-pressure'), settings)
    if (needPa === 0) return notJudged(note('no-work-logged'), settings)
    const lowestBar = needPa / PA_PER_BAR + MARGIN_BAR
    const highestBar = model.relief.settingPa / PA_PER_BAR - MARGIN_BAR
    const band = {
      lowPa: (given.lowBar ?? lowestBar) * PA_PER_BAR,
      highPa: (given.highBar ?? highestBar) * PA_PER_BAR,
    }
    if (highestBar < LEAST_BAND_SHARE * lowestBar) {
      return refused([note('no-room-to-charge', { needBar: needPa / PA_PER_BAR })], settings, CAUTIONS)
    }
    const wholeCm3 = lineDisplacementCm3(machine)
    const wrong = refusedSetting(given, {
      pumpCm3: [SIZE_STEP * wholeCm3, wholeCm3],
      lowBar: [lowestBar, (given.highBar ?? highestBar) / LEAST_BAND_SHARE],
      highBar: [(LEAST_BAND_SHARE * band.lowPa) / PA_PER_BAR, highestBar],
      gasLitres: [1, MOST_GAS_LITRES],
    })
    if (wrong) return refused([wrong], settings, CAUTIONS)
    const askedM3 = supply.reduce((sum, step) => sum + askedM3S(step) * step.durationS, 0)
    const runningS = supply.reduce((sum, step) => sum + (step.motorOn ? step.durationS : 0), 0)
    const meanShare = (MEAN_DEMAND_MARGIN * askedM3) / runningS / model.pump.ratedFlowM3S
    const shares: number[] = []
    for (let steps = Math.max(1, Math.ceil(meanShare / SIZE_STEP)); steps * SIZE_STEP < 1; steps++) {
      shares.push(steps * SIZE_STEP)
    }
    const searched: Tried[] = []
    const energyOf = (charging: Charging, setting: string, value: number) => {
      const after = duty.with(chargedBy(charging))
      searched.push({ setting, value, savedShare: savedShareOf(duty, after), feasible: true })
      return after.electricJ
    }
    let best: { charging: Charging; energy: number } | null = null
    for (const share of given.pumpCm3 === undefined ? shares : [given.pumpCm3 / wholeCm3]) {
      const charging = sized(share, context, band, given.gasLitres)
      if (!charging) continue
      const energy = energyOf(charging, 'pumpCm3', share * wholeCm3)
      if (best && energy >= best.energy) break
      best = { charging, energy }
    }
    if (!best) {
      const why = given.gasLitres === undefined ? 'accumulator-too-large' : 'accumulator-too-small'
      return refused([note(why)], settings, CAUTIONS)
    }
    const { charging } = best
    const { lowPa, pumpShare } = charging
    for (const highBar of evenly((LEAST_BAND_SHARE * lowPa) / PA_PER_BAR, highestBar, BANDS_SHOWN)) {
      const other = sized(pumpShare, context, { lowPa, highPa: highBar * PA_PER_BAR })
      if (other) energyOf(other, 'highBar', highBar)
    }
    return {
      judged: true,
      reasons: [],
      settings: {
        pumpCm3: pumpShare * wholeCm3,
        lowBar: lowPa / PA_PER_BAR,
        // Where the valve is set to: with charging begun at the lowest pressure the next stroke would go below it.
        reloadBar: reloadPa(charging) / PA_PER_BAR,
        highBar: charging.highPa / PA_PER_BAR,
        gasLitres: charging.gasM3 * LITRES_PER_M3,
      },
      change: chargedBy(charging),
      replayShareSd: REPLAY_SHARE_SD,
      cycleTimeChangeShare: 0,
      searched,
      cautions: CAUTIONS,
    }
  },
}
