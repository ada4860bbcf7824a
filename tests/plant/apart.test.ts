import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

const folder = new URL('../../app/_plant/', import.meta.url)
const ALLOWED = /^(\.\/|@\/lib\/contract\/|@\/lib\/numeric\/random$|@\/lib\/units$|node:)/

describe('the simulator is not the analysis run backwards', () => {
  const files = readdirSync(folder).filter((name) => name.endsWith('.ts'))

  it('has files to check', () => {
    expect(files.length).toBeGreaterThan(10)
  })

  it.each(files)('%s takes from lib only shapes, units and random numbers', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8')
    const imports = [...text.matchAll(/from '([^']+)'/g)].map((match) => match[1])
    expect(imports.filter((source) => !ALLOWED.test(source))).toEqual([])
    if (name !== 'write-sample-logs.ts')
      expect(imports.filter((source) => source.startsWith('node:'))).toEqual([])
  })
})
