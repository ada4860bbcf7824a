import { describe, expect, it } from 'vitest'
import { optionFigures } from '@/app/_ui/machine/option-figures'
import { type Option, optionGroups } from '@/app/_ui/machine/option-groups'
import { sensorWords } from '@/app/_ui/machine/sensor-words'
import { toConfirm } from '@/app/_ui/machine/to-confirm'
import { cautions } from '@/app/_words/en/cautions'
import { OPTION_IDS } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { BLANK_OPTION } from '../../invented/blank-option'

const note = (code: string) => ({ code, values: {}, message: `${code} in words` })
const option = (id: Option['id'], part: Partial<Option>): Option => ({
  ...BLANK_OPTION,
  id,
  feasible: true,
  reasons: [],
  cautions: [],
  toConfirm: [],
  ...part,
})

describe('the list of options', () => {
  it('shows every option once, in the order of the ranking, and says a shared reason once', () => {
    const options = OPTION_IDS.map((id, index) =>
      option(id, {
        judged: index % 3 !== 1,
        feasible: index % 3 === 0,
        reasons: index % 3 === 0 ? [] : [note(index % 3 === 1 ? 'needs-load-pressure' : 'no-idle-time')],
      }),
    )
    const { ranked, notForIt, notJudged } = optionGroups(options)
    expect(ranked.map(({ id }) => id)).toEqual(OPTION_IDS.filter((_, index) => index % 3 === 0))
    expect(notJudged).toHaveLength(1)
    expect(notJudged[0].reason).toBe('needs-load-pressure in words')
    const all = [...ranked, ...notForIt, ...notJudged.flatMap((one) => one.options)].map(({ id }) => id)
    expect(all.sort()).toEqual([...OPTION_IDS].sort())
  })

  it('asks to confirm what hurts most first, and at most two things', () => {
    const codes = [
      'qualified-person',
      'motor-starts-limit',
      'confirm-unlogged-loads',
      'raised-load-unsupported',
    ]
    const asked = toConfirm(codes.map(note))
    expect(asked).toHaveLength(2)
    expect(asked[0]).toContain('raised load')
    expect(asked[1]).toContain('not logged')
    expect(toConfirm([note('qualified-person'), note('hot-oil')])).toEqual([])
  })

  it('does not ask again for what the machine file confirms', () => {
    const asked = ['confirm-unlogged-loads', 'pilot-supply-lost-when-vented', 'cycle-time-penalty'].map(note)
    expect(toConfirm(asked, false)).toEqual(['that production can spare the longer cycle'])
  })

  it('finds something to confirm for every caution that asks for it, and no other', () => {
    const silent = Object.keys(cautions).filter((code) => toConfirm([note(code)]).length === 0)
    // Those call for care while working, not for finding something out before ordering.
    expect(silent.sort()).toEqual(
      [
        'drive-response',
        'hot-oil',
        'lockout-stored-energy',
        'motor-cooling-low-speed',
        'motor-speed-rises',
        'qualified-person',
        'safety-reassessment',
        // Those stand with the option itself, in what is to be confirmed.
        'confirm-highest-load',
        'confirm-what-hangs',
        'keeps-accumulators',
        'keeps-brakes',
        'keeps-clamps',
        'keeps-other',
        'keeps-pilot-supply',
      ].sort(),
    )
  })

  it('gives every figure of an option a unit and its path, unknown ones as no data', () => {
    const result = { site: siteSchema.parse({}) }
    const figures = optionFigures(option('smaller-pump', { paybackProbability: 0.5 }), result)
    expect(figures.every(({ unit }) => unit.length > 0)).toBe(true)
    expect(new Set(figures.map(({ figure }) => figure)).size).toBe(figures.length)
    expect(figures.every(({ figure }) => figure.startsWith('options.smaller-pump.'))).toBe(true)
    expect(figures.find(({ name }) => name.startsWith('Chance'))?.text).toBe('50')
    expect(figures.find(({ name }) => name.startsWith('Internal'))?.text).toBe('no data')
  })

  it('names a sensor as a person does', () => {
    expect(sensorWords('pressure:load')).toMatch(/^a pressure sensor: load/)
    expect(sensorWords('something else')).toBe('something else')
  })
})
