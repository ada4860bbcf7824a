import { hasPumpBesideLine, lineDisplacementCm3 } from '@/lib/contract/arrangement'
import {
  FAST_EXPONENT,
  gasVolumeM3,
  PRECHARGE_SHARE,
  SLOW_EXPONENT,
  SLOW_FROM_S,
  usableVolumeM3,
} from '@/lib/machine/accumulator'
import type { MachineModel } from '@/lib/machine/machine-model'
import { ATMOSPHERE_PA, PA_PER_BAR } from '@/lib/units'
import { askedM3S, type Charging, chargedBy, deepestNeedM3, RELOAD_SHARE } from '../charging'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import type { SupplyStep } from '../supply'

/** The lowest charge lies this much above the highest need, the highest this much below the relief setting. */
const MARGIN_BAR = 10
/** Closer together than this the two pressures make a large accumulator of a small need. */
const LEAST_BAND_SHARE = 1.05
/** Charging pumps tried are whole multiples of this share of the present pump, with room above the mean demand. */
const SIZE_STEP = 0.05
const MEAN_DEMAND_MARGIN = 1.1
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

/** The accumulator for a charging pump of this share of the present one, sized so that its charge never falls below the lowest. */
function sized(
  pumpShare: number,
  supply: readonly SupplyStep[],
  model: MachineModel,
  lowPa: number,
  highPa: number,
): Charging | null {
  const chargeM3S =
    pumpShare * model.pump.flowM3S(highPa, model.motor.speedRadS(pumpShare * model.pump.torqueNm(highPa)))
  // Charging begins when a share is gone; from there on as much as ever may be missing more.
  const needM3 = deepestNeedM3(supply, chargeM3S) / (1 - RELOAD_SHARE)
  if (!(needM3 > 0)) return null
  const exponent = needM3 / chargeM3S > SLOW_FROM_S ? SLOW_EXPONENT : FAST_EXPONENT
  const prechargePa = PRECHARGE_SHARE * (lowPa + ATMOSPHERE_PA) - ATMOSPHERE_PA
  const litres = Math.ceil(LITRES_PER_M3 * gasVolumeM3(needM3, prechargePa, lowPa, highPa, exponent))
  const gasM3 = litres / LITRES_PER_M3
  const usableM3 = usableVolumeM3(gasM3, prechargePa, lowPa, highPa, exponent)
  return litres <= MOST_GAS_LITRES
    ? { pumpShare, lowPa, highPa, prechargePa, gasM3, usableM3, exponent }
    : null
}

/**
 * A smaller pump charges an accumulator between two pressures and unloads in between; strokes and holds live
 * on the charge. Every stroke gets its oil at the accumulator's pressure, so light strokes cost more.
 */
export const accumulatorCharging: Option = {
  id: 'accumulator-charging',
  plan({ machine, supply, model, energyJ }) {
    const settings = { pumpCm3: null, lowBar: null, highBar: null, gasLitres: null }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings, CAUTIONS)
    if (hasPumpBesideLine(machine)) return notJudged(note('several-pumps'), settings)
    const needPa = leastPressurePa(machine, highestNeedPa(supply))
    if (Number.isNaN(needPa)) return notJudged(note('needs-load-pressure'), settings)
    if (needPa === 0) return notJudged(note('no-work-logged'), settings)
    const lowPa = needPa + MARGIN_BAR * PA_PER_BAR
    const highPa = model.relief.settingPa - MARGIN_BAR * PA_PER_BAR
    if (highPa < LEAST_BAND_SHARE * lowPa) {
      return refused([note('no-room-to-charge', { needBar: needPa / PA_PER_BAR })], settings, CAUTIONS)
    }
    const askedM3 = supply.reduce((sum, step) => sum + askedM3S(step) * step.durationS, 0)
    const runningS = supply.reduce((sum, step) => sum + (step.motorOn ? step.durationS : 0), 0)
    const meanShare = (MEAN_DEMAND_MARGIN * askedM3) / runningS / model.pump.ratedFlowM3S
    let best: { charging: Charging; energy: number } | null = null
    for (let steps = Math.max(1, Math.ceil(meanShare / SIZE_STEP)); steps * SIZE_STEP < 1; steps++) {
      const charging = sized(steps * SIZE_STEP, supply, model, lowPa, highPa)
      if (!charging) continue
      const energy = energyJ(chargedBy(charging)(supply, model))
      if (best && energy >= best.energy) break
      best = { charging, energy }
    }
    if (!best) return refused([note('accumulator-too-large')], settings, CAUTIONS)
    const { charging } = best
    return {
      judged: true,
      reasons: [],
      settings: {
        pumpCm3: charging.pumpShare * lineDisplacementCm3(machine),
        lowBar: lowPa / PA_PER_BAR,
        highBar: highPa / PA_PER_BAR,
        gasLitres: charging.gasM3 * LITRES_PER_M3,
      },
      change: chargedBy(charging),
      replayShareSd: REPLAY_SHARE_SD,
      cycleTimeChangeShare: 0,
      cautions: CAUTIONS,
    }
  },
}
