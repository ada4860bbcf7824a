import type { Import } from './source'

/** Parts of lib that everything in lib may build on. */
export const BASE: readonly string[] = ['units', 'errors', 'contract', 'numeric', 'time']
const MODEL = [...BASE, 'samples', 'machine']

/** Which parts of lib a part of lib may import, itself included by rule; the arrows run only one way. */
export const LIB_MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  ...Object.fromEntries(BASE.map((name) => [name, BASE])),
  samples: BASE,
  machine: BASE,
  import: MODEL,
  phases: MODEL,
  ledger: [...MODEL, 'phases'],
  economics: BASE,
  options: [...MODEL, 'phases', 'ledger', 'economics'],
  explain: [...MODEL, 'phases', 'ledger', 'options', 'economics'],
  months: [...MODEL, 'import', 'phases', 'ledger', 'options', 'economics'],
  portfolio: [...BASE, 'economics'],
  'logging-plan': [...MODEL, 'phases', 'ledger', 'options', 'economics', 'explain'],
  proof: [...MODEL, 'phases', 'ledger'],
  analyse: [...MODEL, 'import', 'phases', 'ledger', 'options', 'economics', 'explain', 'months', 'proof'],
  'live-options': [...MODEL, 'ledger', 'options', 'economics', 'analyse'],
}

/** Packages lib may use, and the part of lib they belong to. */
const LIB_PACKAGES: Readonly<Record<string, readonly string[]>> = {
  zod: ['contract'],
  papaparse: ['import'],
  financial: ['economics'],
  '@js-temporal/polyfill': ['economics', 'import', 'months', 'time'],
  'ml-matrix': ['numeric', 'phases', 'ledger', 'options', 'machine'],
}

/** `lib/options/catalogue/x` and `lib/units` belong to `options` and `units`. */
export function libPart(path: string): string {
  return path.split('/')[1].replace(/\.tsx?$/, '')
}

/** Why a file of lib must not import this, or null where it may. */
export function libFault(path: string, { target, isInside }: Import): string | null {
  const part = libPart(path)
  if (!isInside) {
    return LIB_PACKAGES[target]?.includes(part) ? null : `${path} imports the package ${target}`
  }
  if (!target.startsWith('lib/')) return `${path} leaves lib for ${target}`
  const to = libPart(target)
  const may = to === part || LIB_MAY_IMPORT[part]?.includes(to)
  return may ? null : `${path} imports ${target}, against the direction of data`
}

const DB_VALUES = ['lib/contract/', 'lib/units', 'lib/errors', 'lib/samples/']

/** Why a file of db must not import this, or null where it may: of lib it takes shapes, never arithmetic. */
export function dbFault(path: string, { target, isInside, typeOnly }: Import): string | null {
  if (!isInside) {
    const barred = /^(next|react|react-dom|echarts|papaparse|financial)(\/|$)/.test(target)
    return barred ? `${path} imports the package ${target}` : null
  }
  if (target.startsWith('db/')) return null
  if (typeOnly && target.startsWith('lib/')) return null
  return DB_VALUES.some((start) => target.startsWith(start)) ? null : `${path} imports ${target}`
}

const PLANT_FROM_LIB = ['lib/contract/', 'lib/numeric/random', 'lib/units', 'lib/errors']

/** Why the invented plant must not import this: it must not share code with the analysis that is held against it. */
export function plantFault(path: string, { target, isInside }: Import): string | null {
  if (!isInside || !target.startsWith('lib/')) return null
  return PLANT_FROM_LIB.some((start) => target.startsWith(start)) ? null : `${path} imports ${target}`
}
