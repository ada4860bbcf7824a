import { expect, it } from 'vitest'
import { fundingAddress, readFundingQuery } from '@/app/_server/views/funding-query'

const PLAIN = {
  budget: null,
  aim: null,
  line: null,
  isQuotedOnly: false,
  isDecidedSpent: false,
  without: [],
  isWhole: false,
}

it('takes the site’s budget where the address names none, and none where it is emptied', () => {
  expect(readFundingQuery({}, undefined)).toEqual({ query: PLAIN, refused: [] })
  expect(readFundingQuery({}, 5000).query.budget).toBe(5000)
  expect(readFundingQuery({ budget: '' }, 5000).query.budget).toBeNull()
  expect(readFundingQuery({ budget: '12 500' }, 5000).query.budget).toBe(12_500)
  expect(readFundingQuery({ budget: '0' }, 5000).query.budget).toBe(0)
})

it('names entries that are no such, with what was expected, and goes on with the usual', () => {
  const { query, refused } = readFundingQuery({ budget: '-3', aim: 'glory' }, 5000)
  expect(query).toEqual({ ...PLAIN, budget: 5000 })
  expect(refused.map(({ entry, actual }) => [entry, actual])).toEqual([
    ['budget', '-3'],
    ['aim', 'glory'],
  ])
  expect(refused[1].expected).toContain('energy')
})

it('comes back from its own address', () => {
  const asked = {
    budget: '9000',
    aim: 'worth',
    line: 'Line A',
    quoted: '1',
    spent: '1',
    without: ['press-4', 'baler 2'],
    all: '1',
  }
  const { query } = readFundingQuery(asked, undefined)
  const back = new URL(fundingAddress(query), 'http://a.test').searchParams
  const params = Object.fromEntries([...new Set(back.keys())].map((key) => [key, back.getAll(key)]))
  expect(readFundingQuery(params, undefined).query).toEqual(query)
  expect(query).toMatchObject({ budget: 9000, aim: 'worth', without: ['press-4', 'baler 2'], isWhole: true })
  expect(readFundingQuery({ budget: [''] }, 1).query.budget).toBeNull()
})
