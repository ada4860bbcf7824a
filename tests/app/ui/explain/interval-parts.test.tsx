import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { IntervalParts } from '@/app/_ui/explain/interval-parts'

const part = (source: string, share: number, below = share, above = share) => ({
  source,
  name: `Name of ${source}`,
  column: null,
  below,
  above,
  halfWidth: Math.sign(share) * Math.sqrt(Math.abs(share)),
  shareOfVariance: share,
  goneIfKnown: 0,
})
const textOf = (parts: readonly ReturnType<typeof part>[]) =>
  renderToStaticMarkup(<IntervalParts parts={parts} unit="kWh" />).replaceAll(/<[^>]*>/g, ' ')

describe('parts of an interval as they are read', () => {
  it('say of what narrows it that it takes off, and why others exceed the whole', () => {
    const text = textOf([part('leakage', 1.24), part('displacement', -0.25), part('edges', 0.01)])
    expect(text).toContain('124 %')
    expect(text).toContain('takes off 25 %')
    expect(text).toContain('partly cancel')
    expect(text).not.toMatch(/−25|-25/)
  })

  it('say nothing of cancelling where nothing cancels', () => {
    expect(textOf([part('leakage', 0.8), part('edges', 0.2)])).not.toContain('cancel')
  })

  it('name the small ones together, so that none is dropped', () => {
    const text = textOf([part('leakage', 0.99), part('edges', 0.005), part('voltage', 0.005)])
    expect(text).toMatch(/Each less than 1 % of the variance: name of edges; name of voltage\./)
  })

  it('tell each side apart where a part reaches further to one of them', () => {
    expect(textOf([part('reliefLeak', 1, 0, 0.046)])).toContain('+0.046')
    expect(textOf([part('leakage', 1, 0.34, 0.098)])).toContain('−0.34 / +0.098')
  })
})
