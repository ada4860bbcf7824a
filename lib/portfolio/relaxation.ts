/** One thing that a group could have. Costs are whole numbers here, so that their sums are exact. */
export interface Item {
  /** In its group; null for nothing. */
  readonly index: number | null
  readonly cost: number
  readonly worth: number
}

/** A step along a group's concave hull, from one item to the next. */
export interface Step {
  readonly group: number
  readonly to: Item
  readonly cost: number
  readonly worth: number
  readonly ratio: number
}

/** Steps of a group's items (by cost, each worth more than those before), the ratio of worth to cost falling strictly. */
function hullSteps(items: readonly Item[], group: number): Step[] {
  const hull: Step[] = []
  for (const to of items.slice(1)) {
    const step = (from: Item): Step => {
      const [cost, worth] = [to.cost - from.cost, to.worth - from.worth]
      return { group, to, cost, worth, ratio: worth / cost }
    }
    const before = () => hull.at(-1)?.to ?? items[0]
    let next = step(before())
    while (hull.length > 0 && hull[hull.length - 1].ratio <= next.ratio) {
      hull.pop()
      next = step(before())
    }
    hull.push(next)
  }
  return hull
}

/** Steps of all groups, best ratio first; those of one group stay in their order. */
export function stepsOf(groups: readonly (readonly Item[])[]): Step[] {
  return groups
    .flatMap(hullSteps)
    .sort((a, b) => b.ratio - a.ratio || a.group - b.group || a.to.cost - b.to.cost)
}

/**
 * What the groups from one on are worth with some money where parts of steps could be bought: the linear relaxation
 * of the multiple-choice knapsack (Sinha and Zoltners 1979), as sums along the steps.
 */
export interface Relaxation {
  readonly steps: readonly Step[]
  /** After so many steps; the first entry is each group's cheapest item. */
  readonly cost: Float64Array
  readonly worth: Float64Array
}

export function relaxationFrom(
  group: number,
  groups: readonly (readonly Item[])[],
  sorted: readonly Step[],
): Relaxation {
  const steps = sorted.filter((step) => step.group >= group)
  const cost = new Float64Array(steps.length + 1)
  const worth = new Float64Array(steps.length + 1)
  for (let k = group; k < groups.length; k++) {
    cost[0] += groups[k][0].cost
    worth[0] += groups[k][0].worth
  }
  steps.forEach((step, k) => {
    cost[k + 1] = cost[k] + step.cost
    worth[k + 1] = worth[k] + step.worth
  })
  return { steps, cost, worth }
}

/** What money reaches: so many steps bought whole, their worth, and no more than `most` with a part of the next. */
export interface Reach {
  readonly whole: number
  readonly sure: number
  readonly most: number
}

/** Null where the money does not even buy each group's cheapest item. */
export function reachOf({ steps, cost, worth }: Relaxation, money: number): Reach | null {
  if (cost[0] > money) return null
  let [low, high] = [0, steps.length]
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (cost[middle] <= money) low = middle
    else high = middle - 1
  }
  const part = low < steps.length ? steps[low].ratio * (money - cost[low]) : 0
  return { whole: low, sure: worth[low], most: worth[low] + part }
}
