import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { ROOT } from './source'

const DOCS = ['README.md', 'DEVELOPERS.md', 'sample-logs/README.md']
const scripts: Record<string, string> = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')).scripts

/** npm's own commands, which need no script. */
const NPM_COMMANDS = ['ci', 'install', 'test', 'run']
const TOP = /^(?:lib|db|app|tests|sample-logs|\.ci)(?:\/|$)|^[A-Za-z.-]+\.(?:md|json|js|ts)$|^LICENSE$/

/** `NAME.machine.json`, `SITE.json`: any file of that kind. */
const STANDS_FOR = /^[A-Z]+(?:\.[a-z]+)*\.(?:json|csv)$/

/** What stands in backticks and is a path of this repository. */
function pathsIn(text: string): string[] {
  const quoted = [...text.matchAll(/`([^`\n]+)`/g)].map((match) => match[1])
  return quoted.filter((one) => TOP.test(one) && !/[\s*<{]/.test(one) && !STANDS_FOR.test(one))
}

/** The scripts that a text tells the reader to run. */
function scriptsIn(text: string): string[] {
  const run = [...text.matchAll(/npm run (?:--?[a-z-]+ )*([a-z][a-z:-]*)/g)].map((match) => match[1])
  const bare = [...text.matchAll(/npm (?!run )([a-z]+)/g)].map((match) => match[1])
  return [
    ...run,
    ...bare.filter((name) => !NPM_COMMANDS.includes(name)),
    ...(/npm test/.test(text) ? ['test'] : []),
  ]
}

describe.each(DOCS)('%s', (name) => {
  const file = join(ROOT, name)
  it('is there and says something', () => {
    expect(existsSync(file)).toBe(true)
    expect(readFileSync(file, 'utf8').length).toBeGreaterThan(400)
  })
  it('names only paths that exist', () => {
    const folder = name.includes('/') ? join(ROOT, name, '..') : ROOT
    const text = readFileSync(file, 'utf8')
    const lost = pathsIn(text).filter(
      (path) => !existsSync(join(ROOT, path)) && !existsSync(join(folder, path)),
    )
    expect(lost).toEqual([])
  })
  it('names only scripts that exist', () => {
    const text = readFileSync(file, 'utf8')
    expect(scriptsIn(text).filter((script) => !Object.hasOwn(scripts, script))).toEqual([])
  })
})

describe('README.md', () => {
  const text = readFileSync(join(ROOT, 'README.md'), 'utf8')
  it('tells the job and the two commands', () => {
    expect(text.replace(/\s+/g, ' ')).toContain(
      'Somebody must find, prove, cost and cut the power that hydraulic power units waste.',
    )
    expect(text).toContain('npm ci && npm run demo')
    expect(text).toContain('npm ci && npm test')
  })
})

it('every script runs a file that exists', () => {
  const files = Object.values(scripts).flatMap((line) => line.match(/\b(?:app|db|tests)\/[\w./-]+/g) ?? [])
  expect(files.length).toBeGreaterThan(0)
  expect(files.filter((file) => !existsSync(join(ROOT, file)))).toEqual([])
})

describe('the rules see what they should', () => {
  it('paths', () => {
    expect(pathsIn('see `lib/units.ts`, `npm run x`, `db/*.ts`, `sqrt(2)` and `README.md`')).toEqual([
      'lib/units.ts',
      'README.md',
    ])
  })
  it('scripts', () => {
    expect(scriptsIn('`npm run --silent analyse -- x`, npm run migrate:new, npm ci && npm test')).toEqual([
      'analyse',
      'migrate:new',
      'test',
    ])
  })
})
