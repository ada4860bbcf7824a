import { describe, expect, it } from 'vitest'
import { BASE, dbFault, LIB_MAY_IMPORT, libFault, libPart, plantFault } from './layers'
import { type Import, importsOf, type SourceFile, sourcesOf } from './source'

const lib = sourcesOf('lib')
const db = sourcesOf('db')
const app = sourcesOf('app')

type Fault = (path: string, one: Import) => string | null

function faults(files: readonly SourceFile[], fault: Fault): string[] {
  return files.flatMap((file) =>
    importsOf(file).flatMap((one) => {
      const said = fault(file.path, one)
      return said === null ? [] : [said]
    }),
  )
}

/** Files that load a package at run time; types alone weigh nothing. */
function loading(files: readonly SourceFile[], name: string): string[] {
  const loads = ({ target, typeOnly }: Import) =>
    !typeOnly && (target === name || target.startsWith(`${name}/`))
  return files.filter((file) => importsOf(file).some(loads)).map((file) => file.path)
}

describe('the arrows', () => {
  it('lib: pure, and only rightwards along the line', () => {
    expect(lib.length).toBeGreaterThan(20)
    expect(faults(lib, libFault)).toEqual([])
  })
  it('every part of lib has its place in the line', () => {
    const parts = [...new Set(lib.map(({ path }) => libPart(path)))]
    expect(parts.filter((part) => !Object.hasOwn(LIB_MAY_IMPORT, part))).toEqual([])
  })
  it('above its base the line has no circle', () => {
    const beyond = (part: string): string[] =>
      LIB_MAY_IMPORT[part].filter((next) => next !== part && !BASE.includes(next))
    const reached = (from: string, seen = new Set<string>()): Set<string> => {
      for (const next of beyond(from)) if (!seen.has(next)) reached(next, seen.add(next))
      return seen
    }
    expect(Object.keys(LIB_MAY_IMPORT).filter((part) => reached(part).has(part))).toEqual([])
    expect(BASE.flatMap(beyond)).toEqual([])
  })
  it('db: tables and queries, no arithmetic, no app', () => {
    expect(faults(db, dbFault)).toEqual([])
  })
  it('the invented plant shares no code with the analysis', () => {
    const plant = app.filter(({ path }) => path.startsWith('app/_plant/'))
    expect(plant.length).toBeGreaterThan(0)
    expect(faults(plant, plantFault)).toEqual([])
  })
  it('the words know lib alone', () => {
    const words = app.filter(({ path }) => path.startsWith('app/_words/'))
    const fault: Fault = (path, { target, isInside }) =>
      isInside && /^(lib|app\/_words)\//.test(target) ? null : `${path} imports ${target}`
    expect(faults(words, fault)).toEqual([])
  })
})

describe('one file each', () => {
  it.each([
    ['papaparse', [...lib, ...db, ...app]],
    ['echarts', app],
    ['@tanstack/react-table', app],
  ])('%s is loaded in one file', (name, files) => {
    expect(loading(files, name)).toHaveLength(1)
  })
})

describe('the rules see what they should', () => {
  const faultsOf = (path: string, text: string, fault: Fault) => faults([{ path, text }], fault)
  it.each([
    ['lib/ledger/a.ts', "import { x } from '@/lib/options/replay'"],
    ['lib/ledger/a.ts', "import type { X } from '../options/replay'"],
    ['lib/samples/a.ts', "import {\n  a,\n  b,\n} from '@/lib/import/table'"],
    ['lib/economics/a.ts', "export { rollUp } from '@/lib/months/rollup'"],
    ['lib/units.ts', "import { trace } from './samples/trace'"],
    ['lib/a/b.ts', "import { readFileSync } from 'node:fs'"],
    ['lib/import/a.ts', "import { createReadStream } from 'fs'"],
    ['lib/options/a.ts', "const react = await import('react')"],
    ['lib/analyse.ts', "import { db } from '@/db/client'"],
    ['lib/analyse.ts', "import '@/app/globals'"],
  ])('%s: %s', (path, text) => {
    expect(faultsOf(path, text, libFault)).toHaveLength(1)
  })
  it.each([
    ['lib/options/a.ts', "import { npv } from '@/lib/economics/cashflow'"],
    ['lib/analyse.ts', "import { replay } from './options/replay'"],
    ['lib/import/a.ts', "import Papa from 'papaparse'"],
    ['lib/ledger/a.ts', "// import { x } from '@/lib/options/replay'"],
    ['lib/ledger/a.ts', "/**\n * import x from 'next'\n */"],
  ])('%s may: %s', (path, text) => {
    expect(faultsOf(path, text, libFault)).toEqual([])
  })
  it('db and plant', () => {
    expect(faultsOf('db/a.ts', "import { rollUp } from '@/lib/months/rollup'", dbFault)).toHaveLength(1)
    expect(faultsOf('db/a.ts', "import type { Log } from '@/lib/import/report'", dbFault)).toEqual([])
    expect(faultsOf('db/a.ts', "import { x } from '@/app/_jobs/x'", dbFault)).toHaveLength(1)
    expect(faultsOf('app/_plant/a.ts', "import { m } from '@/lib/machine/motor'", plantFault)).toHaveLength(1)
    expect(faultsOf('app/_plant/a.ts', "import { s } from '@/lib/numeric/random'", plantFault)).toEqual([])
  })
})
