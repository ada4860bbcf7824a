import { unloadsAboveBar } from '@/lib/contract/arrangement'
import { PA_PER_BAR } from '@/lib/units'
import { eachStep } from '../change'
import { note, notJudged, type Option, refused } from '../option'
import { wholeNeedPa } from '../order'
import { refusedSetting, shownOf, triedAlong } from '../settings'
import type { SupplyStep } from '../supply'

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
const lowSetting = (lowPa: number) =>
  eachStep(({ relief: { settingPa } }) => (step) => {
    if (!passesRelief(step) || !(wholeNeedPa(step) <= lowPa - MARGIN_BAR * PA_PER_BAR)) return
    step.pressurePa = Math.min(step.pressurePa, (step.loggedPa * lowPa) / settingPa)
  })

/** A second, lower relief setting chosen by a solenoid; the best low setting is searched. */
export const secondReliefSetting: Option = {
  id: 'second-relief-setting',
  plan({ machine, supply, ledger, rough }, given = {}) {
    const settings = { lowSettingBar: null, marginBar: MARGIN_BAR }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (!ledger.sensors.loadPressure) return notJudged(note('needs-load-pressure'), settings)
    // A step is counted in only where its load stays below even if the sensor reads low.
    const sensorRoomPa = ledger.sensors.loadPressure.limit
    const settingPa = ledger.curve.settingPa
    const settingBar = settingPa / PA_PER_BAR
    const needsPa = supply.filter(passesRelief).map(wholeNeedPa)
    // A pump that unloads by the line's pressure would never give it up below a relief that opens first.
    const leastForPair = (unloadsAboveBar(machine) * settingPa) / ledger.curve.crackingPa
    const candidates = [
      ...new Set(
        needsPa.map((needPa) => {
          const leastBar = (needPa + sensorRoomPa) / PA_PER_BAR + MARGIN_BAR
          return SETTING_STEP_BAR * Math.ceil(leastBar / SETTING_STEP_BAR)
        }),
      ),
    ].filter((bar) => bar > leastForPair && bar <= settingBar - LEAST_STEP_BAR)
    const wrong = refusedSetting(given, {
      lowSettingBar: [Math.max(MARGIN_BAR, leastForPair), settingBar - LEAST_STEP_BAR],
    })
    if (wrong) return refused([wrong], settings)
    if (candidates.length === 0) return refused([note('no-step-below-low-setting')], settings)
    let best = candidates[0]
    let least = Number.POSITIVE_INFINITY
    for (const bar of candidates) {
      const energy = rough.with(lowSetting(bar * PA_PER_BAR)).electricJ
      if (energy < least) {
        least = energy
        best = bar
      }
    }
    const lowSettingBar = given.lowSettingBar ?? best
    const highest = settingBar - LEAST_STEP_BAR
    const grid: number[] = []
    for (let bar = Math.min(...candidates); bar <= highest; bar += SETTING_STEP_BAR) grid.push(bar)
    /** Whether a step is counted in that is not below it if the sensor reads low. */
    const isDoubtful = (bar: number) => {
      const roomPa = (bar - MARGIN_BAR) * PA_PER_BAR
      return needsPa.some((needPa) => needPa <= roomPa && needPa > roomPa - sensorRoomPa)
    }
    return {
      judged: true,
      reasons: [],
      settings: { lowSettingBar, marginBar: MARGIN_BAR },
      change: lowSetting(lowSettingBar * PA_PER_BAR),
      replaySd: REPLAY_SD,
      cycleTimeChangeShare: 0,
      searched: triedAlong('lowSettingBar', shownOf(grid, lowSettingBar), rough, (bar) => ({
        change: lowSetting(bar * PA_PER_BAR),
        feasible: candidates.includes(bar) || !isDoubtful(bar),
      })),
      cautions: CAUTIONS,
    }
  },
}
