import { PA_PER_BAR } from '@/lib/units'
import { neededWithNeighbours } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import type { SupplyChange, SupplyStep } from '../supply'

/** Room between a step's load and the low setting (contract default). */
const MARGIN_BAR = 10
/** A low setting this near the high one is not worth a valve. */
const LEAST_STEP_BAR = 5
/** Low settings tried are whole multiples of this: nobody sets a valve finer. */
const SETTING_STEP_BAR = 5

/** Which steps stay below the setting hangs on a bar or two of load: about this share of the input. */
const REPLAY_SD = 0.004

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('raised-load-unsupported'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

const passesRelief = (step: SupplyStep) => step.kind === 'work-metering' || step.kind === 'work-holding'

/** Steps whose load stays a margin below the low setting run at it: same flow, same crack ratio and override. */
function lowSetting(lowPa: number): SupplyChange {
  return (supply, model) => {
    const needs = neededWithNeighbours(supply, model.pump.ratedFlowM3S)
    return supply.map((step, i) =>
      passesRelief(step) && needs[i] <= lowPa - MARGIN_BAR * PA_PER_BAR
        ? { ...step, pressurePa: Math.min(step.pressurePa, (step.loggedPa * lowPa) / model.relief.settingPa) }
        : step,
    )
  }
}

/** A second, lower relief setting chosen by a solenoid; the best low setting is searched. */
export const secondReliefSetting: Option = {
  id: 'second-relief-setting',
  plan({ machine, supply, ledger, energyJ }) {
    const settings = { lowSettingBar: null, marginBar: MARGIN_BAR }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (!ledger.sensors.loadPressure) return notJudged(note('needs-load-pressure'), settings)
    // A step is counted in only where its load stays below even if the sensor reads low.
    const sensorRoomPa = ledger.sensors.loadPressure.limit
    const settingPa = ledger.curve.settingPa
    const settingBar = settingPa / PA_PER_BAR
    const candidates = [
      ...new Set(
        neededWithNeighbours(supply, ledger.model.pump.ratedFlowM3S)
          .filter((_, i) => passesRelief(supply[i]))
          .map((needPa) => {
            const leastBar = (needPa + sensorRoomPa) / PA_PER_BAR + MARGIN_BAR
            return SETTING_STEP_BAR * Math.ceil(leastBar / SETTING_STEP_BAR)
          }),
      ),
    ].filter((bar) => bar > 0 && bar <= settingBar - LEAST_STEP_BAR)
    if (candidates.length === 0) return refused([note('no-step-below-low-setting')], settings)
    let best = candidates[0]
    let least = Number.POSITIVE_INFINITY
    for (const bar of candidates) {
      const energy = energyJ(lowSetting(bar * PA_PER_BAR)(supply, ledger.model))
      if (energy < least) {
        least = energy
        best = bar
      }
    }
    return {
      judged: true,
      reasons: [],
      settings: { lowSettingBar: best, marginBar: MARGIN_BAR },
      change: lowSetting(best * PA_PER_BAR),
      replaySd: REPLAY_SD,
      cycleTimeChangeShare: 0,
      cautions: CAUTIONS,
    }
  },
}
