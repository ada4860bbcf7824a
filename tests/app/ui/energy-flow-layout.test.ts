import { expect, it } from 'vitest'
import { layoutFlow } from '@/app/_charts/energy-flow-layout'
import type { Estimate } from '@/lib/contract/estimate'
import type { LedgerKWh } from '@/lib/contract/result'

const exact = (value: number): Estimate => ({ value, low: value, high: value, basis: 'measured' })

const ledger: LedgerKWh = {
  electricIn: exact(100),
  motorLoss: exact(10),
  pumpLoss: exact(15),
  overRelief: exact(45),
  unloading: exact(0),
  intoSystem: exact(28),
  metering: exact(12),
  work: exact(16),
  unaccounted: exact(2),
}

it('draws widths that add up to the input', () => {
  const { branches } = layoutFlow(ledger, 800, 170)
  expect(branches.reduce((sum, branch) => sum + branch.thickness, 0)).toBeCloseTo(170, 9)
  const streams = branches.map((branch) => branch.stream)
  expect(streams).toEqual(['motorLoss', 'pumpLoss', 'overRelief', 'unaccounted', 'metering', 'work'])
})

it('stacks the branches without overlap, across and down', () => {
  const { branches } = layoutFlow(ledger, 800, 170)
  const falling = branches.filter((branch) => branch.falls)
  falling.slice(1).forEach((branch, index) => {
    const before = falling[index]
    expect(branch.leaveX).toBeGreaterThan(before.leaveX + before.thickness)
    expect(branch.top + branch.thickness).toBeCloseTo(before.top, 9)
  })
})

it('ends in "into the system" where work cannot be told apart', () => {
  const { branches } = layoutFlow({ ...ledger, metering: null, work: null }, 800, 170)
  expect(branches.at(-1)).toMatchObject({ stream: 'intoSystem', kWh: 28, falls: false })
  expect(branches.reduce((sum, branch) => sum + branch.thickness, 0)).toBeCloseTo(170, 9)
})
