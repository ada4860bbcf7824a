import { hasFurtherSets, hasPumpBesideLine, lineDisplacementCm3 } from '@/lib/contract/arrangement'
import type { MachineModel } from '@/lib/machine/machine-model'
import { scaledPump } from '@/lib/machine/pump'
import { reliefSlope } from '@/lib/machine/relief'
import { PA_PER_BAR } from '@/lib/units'
import { note, notJudged, type Option, refused } from '../option'
import { atFlow, CYCLE_TIME_LIMIT_SHARE, cycleTimeChange } from '../serve'
import type { SupplyChange, SupplyStep } from '../supply'
import { type PowerUnit, replacing, unitFlowM3S } from '../unit'

/** Shares of the displacement tried for the small pump are whole multiples of this. */
const SIZE_STEP = 0.05
/** Unloading pressures tried are whole multiples of this. */
const PRESSURE_STEP_BAR = 5
/** Once unloaded, the large pump helps again below this share of the unloading pressure (common practice, no source). */
const RELOAD_SHARE = 0.85
/** The large pump is back long before the relief opens. */
const BELOW_CRACKING_SHARE = 0.95
/** Working time in which the pair would hunt between its two states, as a share, that is still called transition. */
const UNSTEADY_LIMIT_SHARE = 0.02

/** How a metering valve answers less flow than it asks for is not known: pressure falls little or much (common practice, no source). */
const REPLAY_SHARE_SD = 0.05

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('force-at-high-pressure-slow'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

interface Pair {
  readonly smallShare: number
  readonly unloadPa: number
}

/**
 * A step on the pair, or null where nobody can say which pumps serve it: between reloading and unloading pressure
 * that depends on what went before, and where both together are too high and the small one alone too low the
 * pair hunts.
 */
function onPair(
  step: SupplyStep,
  unit: PowerUnit,
  { unloadPa }: Pair,
  model: MachineModel,
): SupplyStep | null {
  const reloadPa = RELOAD_SHARE * unloadPa
  if (!step.motorOn || step.kind === 'idle-unloaded' || !(step.pressurePa > reloadPa)) return step
  if (step.pressurePa <= unloadPa) return null
  const smallM3S = unitFlowM3S(unit, step.pressurePa)
  const served = { ...step, unit }
  if (step.kind === 'work-moving' || smallM3S < step.systemM3S) {
    // A stroke's own pressure is about its load's; what metering meets only a sensor tells.
    const moves = step.kind === 'work-moving'
    const alonePa = moves && Number.isNaN(step.loadPa) ? step.pressurePa : step.loadPa
    if (!(alonePa >= reloadPa)) return null
    const slow = atFlow({ ...served, reliefM3S: 0 }, Math.min(smallM3S, step.systemM3S))
    if (moves) return slow
    // Starved of flow, a metering valve keeps its drop or opens wide: the middle of both pressures.
    const keptPa = step.pressurePa - reliefSlope(model.relief) * Math.max(0, step.reliefM3S)
    return { ...slow, pressurePa: (keptPa + Math.min(keptPa, alonePa)) / 2 }
  }
  // The small pump gives what is asked for; the rest of it passes the relief, lower on its line.
  const reliefM3S = smallM3S - Math.max(0, step.systemM3S)
  const less = reliefSlope(model.relief) * (Math.max(0, step.reliefM3S) - reliefM3S)
  return { ...served, reliefM3S, pressurePa: step.pressurePa - Math.max(0, less) }
}

function highLow(pair: Pair, count?: { unsteadyS: number }): SupplyChange {
  return (supply, model) => {
    const units = replacing(model, (unit) => ({
      ...unit,
      pump: scaledPump(unit.pump, pair.smallShare),
      unloaded: { pump: scaledPump(unit.pump, 1 - pair.smallShare), pressurePa: model.unloadingPa },
    }))
    return supply.map((step) => {
      const served = onPair(step, units(step).after, pair, model)
      if (!served && count) count.unsteadyS += step.durationS
      return served ?? step
    })
  }
}

/** Unloading pressures worth trying, Pa: such that one stroke after the other still has both pumps. */
function unloadingPressures(points: readonly SupplyStep[], model: MachineModel): number[] {
  const stepPa = PRESSURE_STEP_BAR * PA_PER_BAR
  const above = points
    .filter((step) => step.kind === 'work-moving' || step.kind === 'work-metering')
    .map((step) => stepPa * Math.ceil(step.pressurePa / RELOAD_SHARE / stepPa))
  const highest = BELOW_CRACKING_SHARE * model.relief.crackingPa
  return [...new Set(above)].filter((pressure) => pressure < highest).sort((a, b) => a - b)
}

/**
 * Two pumps on one shaft, together as large as the present one: above the unloading pressure the large one
 * goes to tank and the small one carries the pressure. Split and pressure are those that save most within
 * the cycle-time limit.
 */
export const highLowPumps: Option = {
  id: 'high-low-pumps',
  plan({ machine, supply, points, model, energyJ }) {
    const settings = { smallPumpCm3: null, unloadBar: null, cycleTimeLimitShare: CYCLE_TIME_LIMIT_SHARE }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasPumpBesideLine(machine) || hasFurtherSets(machine))
      return notJudged(note('several-pumps'), settings)
    if (!points.some((step) => step.kind.startsWith('work'))) {
      return notJudged(note('no-work-logged'), settings)
    }
    const workS = points.reduce((sum, step) => sum + (step.kind.startsWith('work') ? step.durationS : 0), 0)
    let best: (Pair & { energy: number }) | null = null
    const nowJ = energyJ(points)
    for (const unloadPa of unloadingPressures(points, model)) {
      for (let steps = 1; steps * SIZE_STEP < 1 - 1e-9; steps++) {
        const pair = { smallShare: steps * SIZE_STEP, unloadPa }
        const count = { unsteadyS: 0 }
        const after = highLow(pair, count)(points, model)
        if (count.unsteadyS > UNSTEADY_LIMIT_SHARE * workS) continue
        if (cycleTimeChange(points, after) > CYCLE_TIME_LIMIT_SHARE) continue
        const energy = energyJ(after)
        if (energy < (best?.energy ?? nowJ)) best = { ...pair, energy }
        // A larger small pump only wastes more from here on.
        break
      }
    }
    if (!best) return refused([note('no-pump-split', { limitShare: CYCLE_TIME_LIMIT_SHARE })], settings)
    const change = highLow(best)
    const longer = cycleTimeChange(supply, change(supply, model))
    return {
      judged: true,
      reasons: [],
      settings: {
        ...settings,
        smallPumpCm3: best.smallShare * lineDisplacementCm3(machine),
        unloadBar: best.unloadPa / PA_PER_BAR,
      },
      change,
      replayShareSd: REPLAY_SHARE_SD,
      cycleTimeChangeShare: longer,
      cautions: longer > 1e-6 ? [note('cycle-time-penalty', { share: longer }), ...CAUTIONS] : CAUTIONS,
    }
  },
}
