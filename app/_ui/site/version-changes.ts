import { OPTION_IDS } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { entered } from '../format'
import { OPTION_WORDS } from '../labels'
import { SITE_FIELDS } from './site-draft'

/** One part of the settings that a version changed, in words. */
export interface VersionChange {
  readonly what: string
  readonly was: string
  readonly is: string
}

const NONE = 'none'

/** Parts that are more than a number: what to call them, and their state in few words. */
const PARTS: readonly (readonly [keyof Site, string])[] = [
  ['tariff', 'Bands and charges'],
  ['tariffs', 'Prices with dates'],
  ['emissions', 'Emission factors with dates'],
  ['holidays', 'Holidays'],
  ['calendars', 'Shift calendars'],
  ['cooling', 'Oil cooling'],
  ['optionCosts', 'Costs of options'],
  ['optionMaintenance', 'Upkeep of options'],
  ['optionLifetimeYears', 'Lives of options'],
  ['budget', 'Budget'],
]

function shortOf(value: unknown): string {
  if (value === undefined || value === null) return NONE
  if (typeof value === 'number') return entered(value)
  if (typeof value === 'string') return value
  if (Array.isArray(value)) return value.length === 0 ? NONE : value.map(nameOf).join(', ')
  const keys = Object.keys(value)
  return keys.length === 0 ? NONE : keys.map((key) => partOf(key, Reflect.get(value, key))).join(', ')
}

/** What an entry of a list goes by: its name, else its day. */
function nameOf(entry: unknown): string {
  if (typeof entry !== 'object' || entry === null) return String(entry)
  const price = Reflect.get(entry, 'energyPricePerKWh') ?? Reflect.get(entry, 'kgPerKWh')
  const from = Reflect.get(entry, 'from') ?? Reflect.get(entry, 'date')
  const name = Reflect.get(entry, 'name')
  return [price, name, from && `from ${from}`].filter((part) => part !== undefined).join(' ')
}

function partOf(key: string, value: unknown): string {
  if (key === 'bands' && Array.isArray(value)) return `${value.length} bands`
  if (key === 'demand') return 'demand charge'
  if (key === 'reactive') return 'power factor charge'
  return OPTION_IDS.flatMap((id) => (id === key ? OPTION_WORDS[id].title : []))[0] ?? key
}

const differ = (a: unknown, b: unknown) => JSON.stringify(a) !== JSON.stringify(b)

/** What one state of the settings changed of the one before. */
export function versionChanges(before: Site, after: Site): VersionChange[] {
  const fields = SITE_FIELDS.map(({ key, label }) => [key, label] as const)
  return [...fields, ...PARTS]
    .filter(([key]) => differ(before[key], after[key]))
    .map(([key, what]) => {
      const [was, is] = [shortOf(before[key]), shortOf(after[key])]
      return { what, was, is: was === is ? `${is}, changed inside` : is }
    })
}
