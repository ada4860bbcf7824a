import { expect, it } from 'vitest'
import { readAddress, writeAddress } from '@/app/_tables/address-state'

const IDS = ['name', 'kind', 'cost']

it('brings a table back from its address', () => {
  const state = {
    search: 'press 4',
    sort: { id: 'cost', desc: true },
    choices: { kind: 'Over relief' },
    group: 'kind',
    columns: ['name', 'cost'],
  }
  const address = writeAddress(new URLSearchParams(), state, IDS)
  expect(readAddress(new URLSearchParams(address.toString()), IDS)).toEqual(state)
})

it('keeps what belongs to others and drops what was cleared', () => {
  const cleared = { search: '', sort: null, choices: {}, group: null, columns: null }
  const address = writeAddress(new URLSearchParams('log=7&q=old&kind=Idle&sort=cost'), cleared, IDS)
  expect(address.toString()).toBe('log=7')
})

it('does not take over columns that are not there', () => {
  const state = readAddress(new URLSearchParams('sort=-nothing&columns=name,gone'), IDS)
  expect(state.sort).toBeNull()
  expect(state.columns).toEqual(['name'])
})
