import { type Item, type Relaxation, reachOf, relaxationFrom, type Step, stepsOf } from './relaxation'

/** Something that one of a group could have: what it costs and what it is worth. */
export interface Candidate {
  readonly cost: number
  readonly worth: number
}

export interface Portfolio {
  /** Of each group the index of what it gets, null for nothing. */
  readonly picks: readonly (number | null)[]
  readonly cost: number
  readonly worth: number
  /** No portfolio is worth more; equals `worth` where the search was not cut short, so that this is the best. */
  readonly worthAtMost: number
}

/** Money is counted in hundredths, so that sums of costs are exact. */
const PARTS = 100
const parts = (money: number) => Math.round(money * PARTS)
/** Worths closer than this share are the same: sums of floating-point numbers are no surer. */
const SAME_SHARE = 1e-12
/** Beyond this many partial portfolios at once the search is cut short, and says so. */
const MOST_STATES = 100_000

/** Items of a group by cost, each worth more than every cheaper one; nothing first. */
function undominated(group: readonly Candidate[], limit: number): Item[] {
  const all = group.map(({ cost, worth }, index): Item => ({ index, cost: parts(cost), worth }))
  const sorted = all
    .filter(({ cost, worth }) => worth > 0 && cost <= limit)
    .sort((a, b) => a.cost - b.cost || b.worth - a.worth)
  const kept: Item[] = [{ index: null, cost: 0, worth: 0 }]
  for (const item of sorted) if (item.worth > kept[kept.length - 1].worth) kept.push(item)
  // What costs nothing takes the place of nothing.
  return kept.filter((item, k) => k === kept.length - 1 || kept[k + 1].cost > item.cost)
}

interface Found {
  /** Of each group what it gets. */
  readonly items: Item[]
  readonly worth: number
}

/** The relaxation's whole steps, and after the first that does not fit whatever still does. */
function greedy(groups: readonly (readonly Item[])[], steps: readonly Step[], limit: number): Found {
  const chosen = groups.map((own) => own[0])
  let left = limit
  for (const { group, to } of steps) {
    const now = chosen[group]
    if (to.cost - now.cost > left || to.worth <= now.worth) continue
    left -= to.cost - now.cost
    chosen[group] = to
  }
  return { items: chosen, worth: chosen.reduce((sum, { worth }) => sum + worth, 0) }
}

/** A group with the items that are still open. */
interface Open {
  readonly group: number
  readonly items: readonly Item[]
  /** By how much its second-best item falls short of its best. */
  readonly least: number
}

/**
 * Items that may stand in a portfolio worth more than one already found. With money at a price every group takes what
 * is worth most after paying for it, which bounds all portfolios from above (Lagrange); an item that falls short of its
 * group's best by more than the bound is above the found one stands in none. Groups where little is lost come last:
 * the partial portfolios stay few for longest.
 */
function reduced(
  groups: readonly (readonly Item[])[],
  limit: number,
  pricePerCost: number,
  found: number,
): Open[] {
  const net = ({ worth, cost }: Item) => worth - pricePerCost * cost
  const bests = groups.map((own) => own.reduce((most, item) => Math.max(most, net(item)), 0))
  const bound = bests.reduce((sum, best) => sum + best, pricePerCost * limit)
  const slack = bound - found + Math.abs(bound) * SAME_SHARE
  return groups
    .map((own, group): Open => {
      const losses = own.map((item) => bests[group] - net(item))
      const [, least = Number.POSITIVE_INFINITY] = [...losses].sort((a, b) => a - b)
      return { group, items: own.filter((_, k) => losses[k] <= slack), least }
    })
    .sort((a, b) => b.least - a.least || a.group - b.group)
}

/** A portfolio of the groups so far; its picks are followed back along `before`. */
interface State {
  readonly before: State | null
  readonly item: Item | null
  readonly cost: number
  readonly worth: number
  readonly bound: number
}

/** Of states by cost those worth more than every cheaper one; beyond the most, those of the highest bound. */
function thinned(states: State[]): { kept: State[]; dropped: number } {
  states.sort((a, b) => a.cost - b.cost || b.worth - a.worth)
  let most = Number.NEGATIVE_INFINITY
  const kept = states.filter(({ worth }) => {
    if (worth <= most) return false
    most = worth
    return true
  })
  if (kept.length <= MOST_STATES) return { kept, dropped: Number.NEGATIVE_INFINITY }
  kept.sort((a, b) => b.bound - a.bound)
  return { dropped: kept[MOST_STATES].bound, kept: kept.slice(0, MOST_STATES) }
}

/** A state, completed with the first steps of the groups after it. */
function completed(
  groups: readonly (readonly Item[])[],
  state: State,
  { steps }: Relaxation,
  whole: number,
): Item[] {
  const chain: Item[] = []
  for (let at: State | null = state; at?.item; at = at.before) chain.unshift(at.item)
  const chosen = groups.map((own, k) => chain[k] ?? own[0])
  for (const { group, to } of steps.slice(0, whole)) chosen[group] = to
  return chosen
}

/**
 * Searches group by group what is worth more than what was found already; null where nothing is.
 * @returns its items, and the highest bound of what was not looked at
 */
function search(
  groups: readonly (readonly Item[])[],
  limit: number,
  found: number,
): [items: Item[] | null, dropped: number] {
  const sorted = stepsOf(groups)
  let best = found
  let items: (() => Item[]) | null = null
  let dropped = Number.NEGATIVE_INFINITY
  let states: State[] = [{ before: null, item: null, cost: 0, worth: 0, bound: Number.POSITIVE_INFINITY }]
  const above = () => best + Math.abs(best) * SAME_SHARE
  for (let group = 0; group < groups.length && states.length > 0; group++) {
    const rest = relaxationFrom(group + 1, groups, sorted)
    const next: State[] = []
    for (const before of states) {
      for (const item of groups[group]) {
        const cost = before.cost + item.cost
        const reach = reachOf(rest, limit - cost)
        if (!reach) break
        const worth = before.worth + item.worth
        const bound = worth + reach.most
        if (bound <= above()) continue
        const state = { before, item, cost, worth, bound }
        if (worth + reach.sure > best) {
          items = () => completed(groups, state, rest, reach.whole)
          best = worth + reach.sure
        }
        next.push(state)
      }
    }
    const least = above()
    const thin = thinned(next.filter(({ bound }) => bound > least))
    states = thin.kept
    dropped = Math.max(dropped, thin.dropped)
  }
  return [items?.() ?? null, dropped]
}

/**
 * The portfolio of the highest worth within a budget, at most one item of each group: a multiple-choice knapsack,
 * solved exactly. Group by group all portfolios that are not beaten in cost and worth are kept (dynamic programming
 * over undominated states: Nemhauser and Ullmann 1969), less those that even the linear relaxation of the groups to
 * come cannot bring above the best found.
 * @param budget in the unit of `cost`; both are counted in hundredths
 */
export function bestPortfolio(groups: readonly (readonly Candidate[])[], budget: number): Portfolio {
  const limit = Math.floor(Math.round(budget * PARTS * PARTS) / PARTS)
  const all = groups.map((group) => undominated(group, limit))
  const steps = stepsOf(all)
  const first = greedy(all, steps, limit)
  const breaking = steps.at(reachOf(relaxationFrom(0, all, steps), limit)?.whole ?? 0)
  const open = reduced(all, limit, breaking?.ratio ?? 0, first.worth)
  const [best, dropped] = search(
    open.map(({ items }) => items),
    limit,
    first.worth,
  )
  const chosen = first.items
  best?.forEach((item, k) => {
    chosen[open[k].group] = item
  })
  const worth = chosen.reduce((sum, item) => sum + item.worth, 0)
  return {
    picks: chosen.map(({ index }) => index),
    cost: chosen.reduce((sum, item) => sum + item.cost, 0) / PARTS,
    worth,
    worthAtMost: Math.max(worth, dropped),
  }
}
