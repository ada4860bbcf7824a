import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { OPTION_IDS } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { investmentOf, unknownOptionCosts } from '@/lib/economics/option-costs'
import { BALER } from '../../invented/baler'

const machineOf = (ratedPowerKW: number): Machine => ({
  ...BALER,
  motor: { ...BALER.motor, ratedPowerKW },
})

const site = siteSchema.parse({ optionCosts: { 'vent-relief-at-idle': [100, 200, 300] } })

describe('what an option costs', () => {
  it("is the site's own figure where there is one", () => {
    expect(investmentOf('vent-relief-at-idle', machineOf(22), site)).toEqual({
      cost: [100, 200, 300],
      isPlaceholder: false,
    })
  })
  it.each(OPTION_IDS)('%s has a placeholder that rises from low to high and says what it is', (id) => {
    const { cost, isPlaceholder } = investmentOf(id, machineOf(22), siteSchema.parse({}))
    expect(isPlaceholder).toBe(true)
    expect(cost[0]).toBeGreaterThan(0)
    expect(cost[1]).toBeGreaterThan(cost[0])
    expect(cost[2]).toBeGreaterThan(cost[1])
  })
  it('a pump for a larger motor costs more', () => {
    const [small, large] = [7.5, 110].map((kW) =>
      investmentOf('pressure-compensated-pump', machineOf(kW), siteSchema.parse({})),
    )
    expect(large.cost[1]).toBeGreaterThan(small.cost[1])
  })
  it('a cost for no known option is found', () => {
    const mistyped = siteSchema.parse({ optionCosts: { 'vent-relief': [1, 2, 3] } })
    expect(unknownOptionCosts(mistyped)).toEqual(['vent-relief'])
    expect(unknownOptionCosts(site)).toEqual([])
  })
})
