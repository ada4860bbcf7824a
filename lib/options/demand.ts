import type { SupplyStep } from './supply'

/** Steps shorter than this are transitions: their mean pressures are nobody's demand. */
const LEAST_DEMAND_S = 0.25

export const isWork = ({ kind }: Pick<SupplyStep, 'kind'>) =>
  kind === 'work-moving' || kind === 'work-metering' || kind === 'work-holding'

/**
 * Pressure that a working step needs, Pa: its highest load pressure; while moving with the relief closed the pump
 * pressure is what the load and the lines ask for; a hold without a load pressure needs the pump pressure.
 * NaN where no sensor tells.
 */
export function neededPa(step: SupplyStep): number {
  if (!Number.isNaN(step.peakLoadPa)) return step.peakLoadPa
  return step.kind === 'work-metering' ? Number.NaN : step.pressurePa
}

/** Highest pressure that any logged working step needs, Pa; NaN where a step's need is not known. */
export function highestNeedPa(supply: readonly SupplyStep[]): number {
  let highest = 0
  for (const step of supply) {
    if (!isWork(step) || step.durationS < LEAST_DEMAND_S) continue
    const need = neededPa(step)
    if (Number.isNaN(need)) return Number.NaN
    highest = Math.max(highest, need)
  }
  return highest
}

/** Runs of steps of the given kinds that follow each other without a break, as index pairs [first, last]. */
export function runsOf(
  supply: readonly SupplyStep[],
  belongs: (step: SupplyStep) => boolean,
): [number, number][] {
  const runs: [number, number][] = []
  let last: [number, number] | null = null
  for (let i = 0; i < supply.length; i++) {
    if (!belongs(supply[i])) continue
    const follows =
      last?.[1] === i - 1 &&
      Math.abs(supply[i - 1].startS + supply[i - 1].durationS - supply[i].startS) < 1e-6
    if (last && follows) last[1] = i
    else {
      last = [i, i]
      runs.push(last)
    }
  }
  return runs
}
