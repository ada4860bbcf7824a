import type { SupplyStep } from './supply'

/** Steps shorter than this are transitions: their mean pressures are nobody's demand. */
const LEAST_DEMAND_S = 0.25

const isWork = (step: SupplyStep) => step.kind.startsWith('work')

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
  for (let i = 0; i < supply.length; i++) {
    if (!belongs(supply[i])) continue
    const last = runs.at(-1)
    const follows =
      last?.[1] === i - 1 &&
      Math.abs(supply[i - 1].startS + supply[i - 1].durationS - supply[i].startS) < 1e-6
    if (last && follows) last[1] = i
    else runs.push([i, i])
  }
  return runs
}

/** Neighbouring steps whose flows differ by less than this share of the pump's are one step of the machine. */
const SAME_FLOW_SHARE = 0.06

/**
 * What each step's whole machine step needs, Pa: a load that rises while the flow stays is one step of the
 * machine, and its pressure is set for its peak.
 */
export function neededWithNeighbours(supply: readonly SupplyStep[], fullFlowM3S: number): number[] {
  const needs = supply.map(neededPa)
  for (let first = 0; first < supply.length; ) {
    let last = first
    while (
      last + 1 < supply.length &&
      supply[last + 1].kind === supply[first].kind &&
      Math.abs(supply[last + 1].systemM3S - supply[last].systemM3S) < SAME_FLOW_SHARE * fullFlowM3S
    ) {
      last++
    }
    needs.fill(Math.max(...needs.slice(first, last + 1)), first, last + 1)
    first = last + 1
  }
  return needs
}
