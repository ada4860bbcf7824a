import { createReadStream } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { describeExplanation } from '@/app/_words/describe-explanation'
import { en } from '@/app/_words/en'
import { type Analysed, analyse } from '@/lib/analyse'
import { INPUT_SOURCES, STANDINGS } from '@/lib/contract/explanation'
import { siteSchema } from '@/lib/contract/site'
import { explain, figuresOf } from '@/lib/explain/explain'
import { FORMULAS } from '@/lib/explain/formulas'
import { OTHER_SOURCES } from '@/lib/explain/parts'
import { REMEDIES } from '@/lib/explain/remedy'
import { SYMBOLS } from '@/lib/explain/symbols'
import { EXACT } from '@/lib/explain/told'
import { readLog } from '@/lib/import/read-log'
import { PARAMETERS } from '@/lib/ledger/parameters'
import { sampleMachine, samplePath } from '../sample-files'

const { explanations: words } = en

describe('every code of an explanation has words, and no words are without a code', () => {
  it.each([
    ['formulas', words.formulas, Object.keys(FORMULAS)],
    ['symbols', words.symbols, SYMBOLS],
    ['parts of intervals', words.parts, [...PARAMETERS, ...OTHER_SOURCES]],
    ['remedies', words.remedies, REMEDIES],
    ['taken as exact', words.exact, EXACT],
    ['sources of inputs', words.inputSources, INPUT_SOURCES],
    ['standings of defaults', words.standings, STANDINGS],
  ])('%s', (_, entries, codes) => {
    expect(Object.keys(entries).sort()).toEqual([...codes].sort())
  })

  it('every symbol stands in a formula, a rule or an input, under a sign of its own where two meet', () => {
    for (const symbols of Object.values(FORMULAS)) {
      const signs = symbols.map((symbol) => words.symbols[symbol][0])
      expect(new Set(signs).size, symbols.join()).toBe(signs.length)
    }
  })
})

describe.each(['press-all-sensors', 'shear-pump-flow'])('explanations of %s', (name) => {
  let all: Analysed
  beforeAll(async () => {
    const machine = sampleMachine(name)
    const site = siteSchema.parse({})
    const options = { fileName: name, machine, timeZone: site.timeZone }
    all = analyse(await readLog(createReadStream(samplePath(`${name}.csv`)), options), machine, site)
  }, 60_000)

  it('are said in words, with no number or name missing', () => {
    for (const figure of figuresOf(all.analysis, all.grounds)) {
      const explanation = explain(figure, all.analysis, all.grounds)
      if (!explanation) throw new Error(figure)
      const told = describeExplanation(explanation)
      const said = [
        told.formula.message,
        ...told.legend.flatMap(({ written, name: of }) => [written, of]),
        ...told.rules.map(({ message }) => message),
        ...[told.inputs, told.defaults, told.intervalParts].flatMap((of) => of.map((one) => one.name)),
        ...told.takenAsExact.map(({ message }) => message),
        ...(told.narrowing ? [told.narrowing.message, told.narrowing.name] : []),
      ]
      for (const text of said) {
        expect(text, figure).toMatch(/\S/u)
        expect(text, figure).not.toMatch(/undefined|null|NaN|[a-z]{2}[A-Z][a-z]{2}/u)
      }
    }
  })
})
