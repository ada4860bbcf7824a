import { expect, it } from 'vitest'
import type { CompareRow, CompareSums } from '@/app/_server/views/compare-view'
import { entriesOf } from '@/app/_tables/entries'
import { ratioOfSums, savedTogether } from '@/app/_ui/machines/group-totals'

it('keeps the order of rows inside groups, groups by name, and the unnamed last', () => {
  const rows = [
    { id: 1, line: 'B' },
    { id: 2, line: null },
    { id: 3, line: 'A' },
    { id: 4, line: 'B' },
  ]
  const lines = entriesOf(rows, (row) => row.line, 'not stated')
  expect(lines.map((entry) => (entry.kind === 'group' ? entry.name : entry.item.id))).toEqual([
    'A',
    3,
    'B',
    1,
    4,
    'not stated',
    2,
  ])
  expect(entriesOf(rows, null, '')).toHaveLength(4)
})

const row = (sums: Partial<CompareSums> | null, saved: number | null): CompareRow =>
  ({ sums, bestSavedKWhPerYear: saved }) as CompareRow

it('makes a line’s share from sums, never from shares, and leaves out what is not known', () => {
  const rows = [
    row({ inputKWh: 100, wasteKWh: 90, cost: null, runningHours: null }, 50),
    row({ inputKWh: 300, wasteKWh: 30, cost: 8, runningHours: 4 }, null),
    row(null, null),
  ]
  expect(ratioOfSums(rows, 'wasteKWh', 'inputKWh')).toBeCloseTo(0.3, 12)
  expect(ratioOfSums(rows, 'cost', 'runningHours')).toBeCloseTo(2, 12)
  expect(ratioOfSums([row(null, null)], 'cost', 'runningHours')).toBeNull()
  expect(savedTogether(rows)).toBe(50)
  expect(savedTogether([row(null, null)])).toBeNull()
})
