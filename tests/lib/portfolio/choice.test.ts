import { describe, expect, it } from 'vitest'
import { choicesOf } from '@/lib/portfolio/choice'
import { ledgerOf, rankedFor, siteWith } from '../options/hand-options'

const site = siteWith({ budget: 4000, optionCosts: { 'vent-relief-at-idle': [600, 900, 1500] } })
const ranked = rankedFor(ledgerOf(), site)
const choices = choicesOf({ ...ranked, site })
const single = (id: string) => choices.find(({ options }) => options.length === 1 && options[0] === id)

describe('what could be bought for a machine', () => {
  it('are the options and sets that were replayed, each once, with their own figures', () => {
    const keys = choices.map(({ options }) => [...options].sort().join())
    expect(new Set(keys).size).toBe(keys.length)
    for (const option of ranked.options) {
      const choice = single(option.id)
      const saves = option.feasible && (option.savedKWhPerYear?.value ?? 0) > 0
      expect(Boolean(choice), option.id).toBe(saves)
      if (choice) expect(choice.netPresentValue).toEqual(option.netPresentValue)
    }
    expect(ranked.combinations.length).toBeGreaterThan(0)
    for (const set of ranked.combinations) {
      const choice = choices.find(({ options }) => options.join() === set.order.join())
      expect(choice?.savedKWhPerYear).toEqual(set.savedKWhPerYear)
      // Placeholders of one part make the set's investment one.
      expect(choice?.isPlaceholder).toBe(set.options.some((id) => single(id)?.isPlaceholder))
    }
    expect(single('vent-relief-at-idle')?.isPlaceholder).toBe(false)
  })

  it('cost a year what the result says a saved kWh costs (no cooling here)', () => {
    for (const option of ranked.options) {
      const choice = single(option.id)
      if (!choice || !option.costPerSavedKWh) continue
      const unit = choice.yearlyCost / choice.savedKWhPerYear.value
      expect(unit).toBeCloseTo(option.costPerSavedKWh.value, 9)
    }
  })

  it('move with the price by its limit of the worth of what they save, as the result’s own swing says', () => {
    for (const option of ranked.options) {
      const choice = single(option.id)
      const swing = option.tornado?.find(({ assumption }) => assumption === 'price')
      if (!choice || !swing) continue
      const saved = choice.netPresentValue.value + choice.investment.value
      expect((swing.high - swing.low) / 2).toBeCloseTo(saved * site.energyPriceLimitShare, 6)
    }
  })
})
