import { readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { lineCount, ROOT, type SourceFile, sourcesOf, withoutComments } from './source'

const lib = sourcesOf('lib')
const product = sourcesOf('lib', 'db', 'app')
const everything = sourcesOf('lib', 'db', 'app', 'tests')

const MOST_LINES = 300
const MEDIAN_LIB_LINES = 80

describe('the top level', () => {
  const allowed = [
    'README.md',
    'DEVELOPERS.md',
    'LICENSE',
    'package.json',
    'package-lock.json',
    'tsconfig.json',
    'next.config.js',
    'app',
    'lib',
    'db',
    'tests',
    'sample-logs',
  ]
  it('holds only what belongs there', () => {
    const ignored = readFileSync(join(ROOT, '.gitignore'), 'utf8').split('\n').filter(Boolean)
    const isIgnored = (name: string) =>
      ignored.some((line) => {
        const pattern = line.replace(/\/$/, '').replaceAll('.', '\\.').replaceAll('*', '.*')
        return new RegExp(`^${pattern}$`).test(name)
      })
    const strange = readdirSync(ROOT).filter(
      (name) => !name.startsWith('.') && !allowed.includes(name) && !isIgnored(name),
    )
    expect(strange).toEqual([])
  })
})

describe('sizes', () => {
  it(`no file of lib, db or app has more than ${MOST_LINES} lines`, () => {
    const long = product.filter(({ text }) => lineCount(text) > MOST_LINES)
    expect(long.map(({ path, text }) => `${path}: ${lineCount(text)}`)).toEqual([])
  })
  it(`half of lib's files have fewer than ${MEDIAN_LIB_LINES} lines`, () => {
    const lines = lib.map(({ text }) => lineCount(text)).sort((a, b) => a - b)
    expect(lines[Math.floor(lines.length / 2)]).toBeLessThan(MEDIAN_LIB_LINES)
  })
})

/** Lines that break a rule, as `path:line: text`. */
function breaking(files: readonly SourceFile[], rule: RegExp, strip: boolean): string[] {
  return files.flatMap(({ path, text }) =>
    (strip ? withoutComments(text) : text)
      .split('\n')
      .flatMap((line, i) => (rule.test(line) ? [`${path}:${i + 1}: ${line.trim()}`] : [])),
  )
}

/** Built from parts where this very file would else break the rule. */
const word = (...parts: string[]) => parts.join('')
const RULES = {
  any: new RegExp(String.raw`:\s*@\b|\bas @\b|<@\b|\b@>|\b@\[\]`.replaceAll('@', word('an', 'y'))),
  silenced: new RegExp(word('@ts', '-(?:ignore|nocheck|expect-error)')),
  skipped: /\b(?:it|test|describe)\.(?:skip|only|todo)\b/,
  unfinished: new RegExp(`\\b(?:${word('TO', 'DO')}|${word('FIX', 'ME')}|${word('X', 'XX')})\\b`),
  machinePath: new RegExp(`['"\`(\\s](?:/${word('wo', 'rk')}|/${word('ro', 'ot')}|/${word('ho', 'me')})/`),
  /** What stands for a row of columns has nothing of its own to copy (lib/phases/stretch-columns.ts). */
  spreadRow: /\.\.\.(?:\w+\.)*(?:step|stretch|means)\s*[,})]/,
  /** Four words of prose in one string. */
  sentence: /(['"`])(?:(?!\1).)*?\b[A-Za-z]{2,}(?: [a-z]{2,}){3,}\b(?:(?!\1).)*?\1/,
  /** Factors that only lib/units.ts may hold, as an operand or a constant. */
  bareFactor:
    /[*/]\s*(?:600|3_?600|1714|1e5|100_?000|3\.6e6|3_?600_?000)(?![\w.])|(?<![\w.])(?:600|3_?600|1714|1e5|100_?000|3\.6e6|3_?600_?000)\s*[*/]|=\s*(?:3_?600|1714|3\.6e6|3_?600_?000)(?![\w.])/,
}

describe('habits', () => {
  it('no any', () => {
    expect(breaking(everything, RULES.any, true)).toEqual([])
  })
  it('no silenced checks', () => {
    expect(breaking(everything, RULES.silenced, false)).toEqual([])
  })
  it('no skipped or lone tests', () => {
    expect(breaking(sourcesOf('tests'), RULES.skipped, true)).toEqual([])
  })
  it('nothing left unfinished by its own words', () => {
    expect(breaking(everything, RULES.unfinished, false)).toEqual([])
  })
  it('no paths of one machine', () => {
    expect(breaking(everything, RULES.machinePath, false)).toEqual([])
  })
  it('no row of columns is spread', () => {
    const readers = everything.filter(({ path }) =>
      /^(?:lib|tests\/lib)\/(?:phases|ledger|options|explain)\//.test(path),
    )
    expect(breaking(readers, RULES.spreadRow, true)).toEqual([])
  })
  it('no sentences in lib: they belong to app/_words', () => {
    // Lists of words that loggers write in headers are read, not said.
    const speaking = lib.filter(({ path }) => !/^lib\/import\/[a-z]+-words\.ts$/.test(path))
    expect(breaking(speaking, RULES.sentence, true)).toEqual([])
  })
  it('no bare conversion factors in lib outside lib/units.ts', () => {
    const others = lib.filter(({ path }) => path !== 'lib/units.ts')
    expect(breaking(others, RULES.bareFactor, true)).toEqual([])
  })
  it('no catch-all and no barrel files', () => {
    const named = product.filter(({ path }) =>
      /^(utils?|helpers?|index|misc|common)\.tsx?$/.test(basename(path)),
    )
    expect(named.map(({ path }) => path)).toEqual([])
  })
})

describe('the rules see what they should', () => {
  it.each([
    ['any', word('const a: an', 'y = 1'), 'const company = 1'],
    ['any', word('x as an', 'y'), 'x as Anything'],
    ['any', word('Record<string, an', 'y>'), 'many > 1'],
    ['skipped', word('it', ".skip('x')"), "it.skipIf(absent)('x')"],
    ['unfinished', `// ${word('TO', 'DO')} later`, '// today'],
    ['silenced', `// ${word('@ts', '-ignore')}`, '// @throws'],
    ['machinePath', `'${word('/wo', 'rk')}/x'`, "'app/work/x'"],
    ['spreadRow', '({ ...step, kind })', '({ ...steps, kind })'],
    ['spreadRow', '{ ...one.means }', 'Math.max(...means.map(highest))'],
    ['sentence', "'The pump is too small'", "'pump-too-small'"],
    ['sentence', '`expected one of these but`', "import { a, b } from 'c'"],
    ['bareFactor', 'x / 600', 'x / 6000'],
    ['bareFactor', 'const a = 3600 * b', 'slice(0, 600)'],
    ['bareFactor', 'const S = 3_600', 'a3600 = b'],
  ] as const)('%s', (rule, bad, good) => {
    expect(RULES[rule].test(bad)).toBe(true)
    expect(RULES[rule].test(good)).toBe(false)
  })
  it('comments may hold anything', () => {
    expect(withoutComments("a() // say it's any\n/* b\n any */ c").replace(/\s+/g, ' ')).toBe('a() c')
    expect(withoutComments("const u = 'http://x'")).toBe("const u = 'http://x'")
  })
})
