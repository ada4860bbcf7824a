import { irr as libraryIrr, npv as libraryNpv, nper, pmt } from 'financial'

/**
 * Net present value of yearly flows, the first one now (t = 0, not discounted).
 * Library: `financial`, a port of numpy-financial with the same sign and first-period convention.
 * @param discountRate per year, as a share
 */
export function npv(discountRate: number, flows: readonly number[]): number {
  return libraryNpv(discountRate, [...flows])
}

const GUESSES = [0.1, 0, -0.2, -0.5, -0.8, 1, 10]

/**
 * Internal rate of return per year of yearly flows, the first one now, or null where there is none.
 * The library's Newton search can run off to a rate below −100 % that solves the equation but means
 * nothing, so several starts are tried and a root is taken only where it can be a rate.
 */
export function irr(flows: readonly number[]): number | null {
  if (!flows.some((flow) => flow > 0) || !flows.some((flow) => flow < 0)) return null
  const size = flows.reduce((sum, flow) => sum + Math.abs(flow), 0)
  const perpetual = -flows[1] / flows[0]
  for (const guess of [...GUESSES, perpetual]) {
    if (!Number.isFinite(guess)) continue
    const rate = libraryIrr([...flows], guess, 1e-9)
    if (rate > -1 && Math.abs(npv(rate, flows)) < 1e-6 * size) return rate
  }
  return null
}

/** Years until an even yearly saving has paid an investment back, not discounted; null where it never does. */
export function simplePaybackYears(investment: number, savedPerYear: number): number | null {
  return savedPerYear > 0 ? investment / savedPerYear : null
}

/** Smallest rate per year that is told from none. */
const LEAST_RATE = 1e-9

/**
 * Years until the discounted savings have paid an investment back that takes `simpleYears` undiscounted: the
 * number of periods of an annuity (numpy-financial's `nper`). Null where the interest on it outgrows the saving.
 */
export function discountedPaybackYears(discountRate: number, simpleYears: number): number | null {
  if (!(discountRate * simpleYears < 1)) return null
  // Below this the annuity's formula divides rounding by rounding.
  if (discountRate < LEAST_RATE) return simpleYears
  return nper(discountRate, -1, simpleYears)
}

/** What one unit invested costs a year over a life, interest included: the annuity that pays it off (`pmt`). */
export function capitalRecoveryFactor(discountRate: number, lifetimeYears: number): number {
  return discountRate < LEAST_RATE ? 1 / lifetimeYears : -pmt(discountRate, lifetimeYears, 1)
}

/**
 * The flows of one unit saved a year over a lifetime, the first entry (now) being 0. Savings arrive at
 * year ends; the last, broken year pays its share at that year's end.
 */
export function unitSavingFlows(lifetimeYears: number): number[] {
  const whole = Math.floor(lifetimeYears)
  const broken = lifetimeYears - whole
  const flows = [0, ...new Array<number>(whole).fill(1)]
  if (broken > 0) flows.push(broken)
  return flows
}

/** What one unit saved at every year's end of a life is worth now. */
export function worthOfOneAYear(discountRate: number, lifetimeYears: number): number {
  return npv(discountRate, unitSavingFlows(lifetimeYears))
}
