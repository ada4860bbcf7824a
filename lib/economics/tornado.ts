import { ASSUMPTIONS, type Assumption } from '@/lib/contract/option-result'
import { HIGH_SHARE, LOW_SHARE, triangleAt } from './draws'
import { type Prospect, worthOf } from './prospect'

/** An option's prospect, and how far rate and lives may be from what is reckoned with. */
export interface Named<Id> extends Prospect {
  readonly id: Id
  /** Whole hours a year, for showing what was moved. */
  readonly plannedHours: number
  readonly discountRateLimit: number
  readonly lifetimeLimitShare: number
  /** True where the life is the site's for every option, and not this option's own. */
  readonly lifeIsShared: boolean
  /** How many kWh of another option's saving move along with one of this one's: both rest on the same sensors and models. */
  readonly movesAlong: (other: Id) => number
}

/** Net present value with one assumption alone at either end of its 95 % interval. */
export interface Swing {
  readonly assumption: Assumption
  /** The lower and the higher net present value, and what the assumption is there. */
  readonly low: number
  readonly high: number
  readonly lowAt: number
  readonly highAt: number
  /** Whether the option of highest net present value is another one at either end. */
  readonly changesFirst: boolean
}

type End = 'low' | 'high'
type Shown = Omit<Named<unknown>, 'movesAlong'>

/** A prospect with one assumption at an end, and the value that it has there. */
function movedTo(of: Shown, assumption: Assumption, end: End): { to: Prospect; at: number } {
  const sign = end === 'low' ? -1 : 1
  const share = end === 'low' ? LOW_SHARE : HIGH_SHARE
  const atEnd = (triangle: Prospect['investment']): [number, number, number] => {
    const value = triangleAt(triangle, share)
    return [value, value, value]
  }
  switch (assumption) {
    case 'price': {
      const pricePerKWh = of.pricePerKWh * (1 + sign * of.priceLimitShare)
      return { to: { ...of, pricePerKWh }, at: pricePerKWh }
    }
    case 'hours': {
      // Energy goes with the hours, the demand charge does not.
      const factor = 1 + sign * of.hoursLimitShare
      return { to: { ...of, pricePerKWh: of.pricePerKWh * factor }, at: of.plannedHours * factor }
    }
    case 'saving': {
      const value = of.savedKWh[end]
      return { to: { ...of, savedKWh: { ...of.savedKWh, value } }, at: value }
    }
    case 'investment': {
      const investment = atEnd(of.investment)
      return { to: { ...of, investment }, at: investment[1] }
    }
    case 'maintenance': {
      const maintenance = atEnd(of.maintenance)
      return { to: { ...of, maintenance }, at: maintenance[1] }
    }
    case 'discount-rate': {
      const discountRate = Math.max(0, of.discountRate + sign * of.discountRateLimit)
      return { to: { ...of, discountRate }, at: discountRate }
    }
    case 'life': {
      const lives = of.lives.map((one) => ({ ...one, years: one.years * (1 + sign * of.lifetimeLimitShare) }))
      return { to: { ...of, lives }, at: lives.reduce((sum, one) => sum + one.share * one.years, 0) }
    }
  }
}

/** Whether an assumption about one option holds for another one too. */
function isShared(assumption: Assumption, one: Shown, other: Shown): boolean {
  if (assumption === 'life') return one.lifeIsShared && other.lifeIsShared
  return assumption === 'price' || assumption === 'hours' || assumption === 'discount-rate'
}

function firstOf<Id>(worths: readonly (readonly [Id, number])[]): Id {
  return worths.reduce((best, one) => (one[1] > best[1] ? one : best))[0]
}

/** Another option's prospect where this one's saving is moved. */
function savingAlong<Id>(other: Named<Id>, of: Named<Id>, movedKWh: number): Prospect {
  const value = other.savedKWh.value + of.movesAlong(other.id) * (movedKWh - of.savedKWh.value)
  return { ...other, savedKWh: { ...other.savedKWh, value } }
}

/**
 * What moves each option's net present value most: every assumption alone moved to either end of its 95 % interval,
 * widest swing first. What holds for the whole site (price, hours, discount rate, its life) moves for all options at
 * once when it is asked whether the first place changes; with a saving those of other options move as far as they share
 * its doubts; investment and upkeep move for the option alone.
 */
export function tornadoes<Id>(options: readonly Named<Id>[]): Map<Id, Swing[]> {
  const now = options.map((one) => [one.id, worthOf(one)] as const)
  const swings = (of: Named<Id>) =>
    ASSUMPTIONS.map((assumption): Swing => {
      const ends = (['low', 'high'] as const).map((end) => {
        const { to, at } = movedTo(of, assumption, end)
        const worth = worthOf(to)
        const others = options.map((other, k): readonly [Id, number] => {
          if (other.id === of.id) return [of.id, worth]
          if (assumption === 'saving') return [other.id, worthOf(savingAlong(other, of, at))]
          return isShared(assumption, of, other)
            ? [other.id, worthOf(movedTo(other, assumption, end).to)]
            : now[k]
        })
        return { worth, at, first: firstOf(others) }
      })
      const [low, high] = [...ends].sort((a, b) => a.worth - b.worth)
      const first = firstOf(now)
      return {
        assumption,
        low: low.worth,
        high: high.worth,
        lowAt: low.at,
        highAt: high.at,
        changesFirst: ends.some((end) => end.first !== first),
      }
    })
      .filter(({ assumption }) => assumption !== 'maintenance' || of.maintenance[0] < of.maintenance[2])
      .sort((a, b) => b.high - b.low - (a.high - a.low))
  return new Map(options.map((one) => [one.id, swings(one)]))
}
