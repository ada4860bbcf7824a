import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import {
  CAUTION_CODES,
  CHECK_CODES,
  ENGINE_PROBLEM_CODES,
  FINDING_CODES,
  OTHER_ERROR_CODES,
  REASON_CODES,
} from '@/app/_words/codes'
import type { Say } from '@/app/_words/dictionary'
import { en } from '@/app/_words/en'
import { REPRESENTATIVE_WORDS } from '@/app/_words/en/months'
import { saidOf, type Values } from '@/app/_words/said'
import { LOCATIONS, QUANTITIES } from '@/lib/contract/machine'
import { OPTION_IDS, PHASE_CLASSES, PHASE_KINDS, STREAMS } from '@/lib/contract/result'
import { IMPORT_ERROR_CODES, IMPORT_PROBLEM_CODES } from '@/lib/import/codes'

const ROOT = fileURLToPath(new URL('../../..', import.meta.url))

/** Codes written out in the source where an error is thrown or a statement made. */
function codesInSource(pattern: RegExp, folders: readonly string[]): [code: string, file: string][] {
  return folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((file) => /\.tsx?$/.test(file) && !file.startsWith('_words'))
      .flatMap((file) =>
        [...readFileSync(join(ROOT, folder, file), 'utf8').matchAll(pattern)].map(
          (match): [string, string] => [match[1], `${folder}/${file}`],
        ),
      ),
  )
}

describe('every code has words, and no words are without a code', () => {
  it.each([
    ['problems', en.problems, [...IMPORT_PROBLEM_CODES, ...ENGINE_PROBLEM_CODES]],
    ['errors', en.errors, [...IMPORT_ERROR_CODES, ...OTHER_ERROR_CODES]],
    ['findings', en.findings, FINDING_CODES],
    ['checks', en.checks, CHECK_CODES],
    ['reasons', en.reasons, REASON_CODES],
    ['cautions', en.cautions, CAUTION_CODES],
    ['options', en.options, OPTION_IDS],
    ['phase kinds', en.phaseKinds, PHASE_KINDS],
    ['phase classes', en.phaseClasses, PHASE_CLASSES],
    ['streams', en.streams, ['electricIn', ...STREAMS]],
    ['quantities', en.quantities, QUANTITIES],
    ['locations', en.locations, LOCATIONS],
  ])('%s', (_name, entries, codes) => {
    expect(Object.keys(entries).sort()).toEqual([...codes].sort())
  })
})

describe('every code in the source has words', () => {
  const errors = codesInSource(/(?:TankwardError|importError)\(\s*'([a-z0-9-]+)'/g, ['lib', 'db', 'app'])
  it('errors: some are found at all', () => {
    expect(errors.length).toBeGreaterThan(0)
  })
  it.each(errors)('error %s in %s', (code) => {
    expect(Object.keys(en.errors)).toContain(code)
  })

  const statements = codesInSource(/\b(?:code: |note\(|[^.]add\(|problems\.add\()'([a-z0-9-]+)'/g, ['lib'])
  // What a month's logs do not stand for has words of its own; `custom` is the schema library's name for a rule of ours.
  const said = {
    ...en.problems,
    ...en.findings,
    ...en.reasons,
    ...en.cautions,
    ...REPRESENTATIVE_WORDS,
    custom: null,
  }
  it('statements of lib', () => {
    expect(statements.length).toBeGreaterThan(20)
    const silent = statements.filter(([code]) => !Object.hasOwn(said, code))
    expect(silent).toEqual([])
  })
})

describe('sentences', () => {
  const all: [string, Say][] = [
    ...Object.entries(en.problems),
    ...Object.entries(en.findings),
    ...Object.entries(en.reasons),
    ...Object.entries(en.cautions),
    ...Object.entries(en.errors).map(([code, { detail }]): [string, Say] => [code, detail]),
  ]
  const write = (say: Say, values: Values) => say(saidOf(values, en.language))

  it.each(all)('%s is a sentence, with and without values', (_code, say) => {
    for (const text of [write(say, {}), write(say, { count: 3 }), write(say, everyValueOf(say))]) {
      expect(text).toMatch(/^[^a-z\s].*[.?]$/su)
      expect(text).not.toMatch(/undefined|null|NaN|\[object| {2}| ,|\.\./u)
    }
  })
  it.each(all)('%s names every value it asks for', (_code, say) => {
    const values = everyValueOf(say)
    for (const value of Object.values(values)) {
      expect(write(say, values)).toContain(value === 0.125 ? '12.5 %' : String(value))
    }
  })
  it.each(Object.entries(en.options))('%s has a title and says what it is', (_id, { title, whatItIs }) => {
    expect(title).toMatch(/^[A-Z][^.]+$/)
    expect(whatItIs).toMatch(/^A.*\.$|^The.*\.$/)
  })
})

/** A value for every name the sentence asks for. */
function everyValueOf(say: Say): Values {
  const asked: Record<string, string | number> = {}
  const note = (name: string) => {
    const text = `<${name}>`
    asked[name] = text
    return text
  }
  say({
    count: 1,
    things: (one) => `1 ${one}`,
    value: note,
    part: (name, words) => words(note(name)),
    percent: (name, words) => {
      asked[name] = 0.125
      return words('12.5 %')
    },
    rest: () => [],
  })
  return asked
}
