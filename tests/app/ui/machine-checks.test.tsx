import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { MachineChecks } from '@/app/_ui/site/machine-checks'

const fleet = (count: number) =>
  Array.from({ length: count }, (_, k) => ({ id: `m${k}`, name: `Press ${k}`, line: 'Line A' }))
const html = (count: number, chosen: readonly string[]) =>
  renderToStaticMarkup(<MachineChecks machines={fleet(count)} chosen={chosen} onChange={() => {}} />)
const boxes = (text: string) => text.split('type="checkbox"').length - 1

it('gives each of a few machines its box, and ticks those that a calendar names by id or by name', () => {
  const few = html(8, ['m2', 'Press 5'])
  expect(boxes(few)).toBe(8)
  expect(few.split('checked=""').length - 1).toBe(2)
  expect(few).not.toContain('type="search"')
})

it('has boxes for the first of many, says how many are ticked and keeps ticks that have no box here', () => {
  const many = html(500, ['m2', 'Press 499', 'gone'])
  // One box more shows those that are ticked alone.
  expect(boxes(many)).toBe(26)
  expect(many.split('checked=""').length - 1).toBe(1)
  expect(many).toContain('3 of 501: Press 2, Press 499, gone (no machine of this name).')
  expect(many).toContain('Tick all 501 found')
  expect(many).toContain('The first 25 of 501')
  expect(html(500, [])).toContain('None of 500 is ticked.')
})
