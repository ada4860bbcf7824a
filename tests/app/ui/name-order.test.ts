import { expect, it } from 'vitest'
import { byName } from '@/app/_ui/name-order'

it('puts press 9 before press 10, and leaves the rows it was given as they were', () => {
  const rows = ['Press 10', 'Lift 2', 'press 9', 'Press 9b'].map((name) => ({ name }))
  expect(byName(rows).map(({ name }) => name)).toEqual(['Lift 2', 'press 9', 'Press 9b', 'Press 10'])
  expect(rows[0].name).toBe('Press 10')
})
