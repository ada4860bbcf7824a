import { OPTION_IDS } from '@/lib/contract/result'
import { type Site, siteSchema } from '@/lib/contract/site'
import { errorsOf } from '../setup/draft'
import { numberOf } from '../setup/typed-number'
import { type CalendarDraft, calendarDraftsOf, calendarJsonOf } from './calendar-draft'
import {
  type EmissionDraft,
  emissionDraftsOf,
  emissionJsonOf,
  type HolidayDraft,
  holidayDraftsOf,
  holidayJsonOf,
  isTariffEmpty,
  needed,
  type TariffDraft,
  tariffDraftOf,
  tariffJsonOf,
  type VersionDraft,
  versionDraftsOf,
  versionJsonOf,
} from './tariff-draft'

export interface SiteFieldSpec {
  readonly key: keyof Site
  readonly label: string
  readonly unit: string
  readonly help: string
  readonly numeric: boolean
}

export const SITE_FIELDS: readonly SiteFieldSpec[] = [
  { key: 'name', label: 'Name', unit: '', help: 'Of the works.', numeric: false },
  {
    key: 'timeZone',
    label: 'Time zone',
    unit: '',
    help: 'As in Europe/Vienna; months and bands follow it.',
    numeric: false,
  },
  { key: 'currency', label: 'Currency', unit: '', help: 'Three letters, as in EUR.', numeric: false },
  {
    key: 'energyPricePerKWh',
    label: 'Energy price',
    unit: '/kWh',
    help: 'Where no time-of-use band applies.',
    numeric: true,
  },
  {
    key: 'emissionKgPerKWh',
    label: 'Emission factor',
    unit: 'kg/kWh',
    help: 'CO₂ per kWh of electricity, from your supplier or grid.',
    numeric: true,
  },
  {
    key: 'plannedHoursPerYear',
    label: 'Planned hours',
    unit: 'h/yr',
    help: 'Hours a year the machines are meant to run.',
    numeric: true,
  },
  {
    key: 'plannedHoursLimitShare',
    label: 'Doubt of planned hours',
    unit: '0–1',
    help: 'How far a year may be from the planned hours, 19 years in 20: 5 % is 0.05.',
    numeric: true,
  },
  {
    key: 'energyPriceLimitShare',
    label: 'Doubt of the energy price',
    unit: '0–1',
    help: 'How far the mean price over the life of a fix may be from today’s, 19 times in 20: 10 % is 0.1.',
    numeric: true,
  },
  { key: 'discountRate', label: 'Discount rate', unit: '0–1', help: '8 % is 0.08.', numeric: true },
  {
    key: 'discountRateLimit',
    label: 'Doubt of the discount rate',
    unit: '0–1',
    help: 'How far up or down another rate is looked at: two points are 0.02.',
    numeric: true,
  },
  {
    key: 'lifetimeYears',
    label: 'Life of a fix',
    unit: 'years',
    help: 'Over which net present value is reckoned.',
    numeric: true,
  },
  {
    key: 'lifetimeLimitShare',
    label: 'Doubt of the life',
    unit: '0–1',
    help: 'How far a life may be from that, 19 times in 20: 20 % is 0.2.',
    numeric: true,
  },
  {
    key: 'wantedPaybackYears',
    label: 'Wanted payback',
    unit: 'years',
    help: 'For the chance of payback in time.',
    numeric: true,
  },
]

export interface SiteDraft {
  readonly text: Readonly<Record<string, string>>
  /** Bands and charges where no price with dates holds. */
  readonly tariff: TariffDraft
  readonly versions: readonly VersionDraft[]
  readonly emissions: readonly EmissionDraft[]
  readonly holidays: readonly HolidayDraft[]
  readonly calendars: readonly CalendarDraft[]
  /** Low, likely, high by option id; all empty = the shipped placeholder. */
  readonly costs: Readonly<Record<string, readonly [string, string, string]>>
  /** More upkeep a year by option id; all empty = none. And years of life of its own; empty = the site's. */
  readonly upkeep: Readonly<Record<string, readonly [string, string, string]>>
  readonly lives: Readonly<Record<string, string>>
  /** Electricity per heat of what cools the oil, empty = not powered; and the most to be spent, empty = no limit. */
  readonly cooling: string
  readonly budget: string
}

const NONE: readonly [string, string, string] = ['', '', '']

export function siteDraftOf(site: Site): SiteDraft {
  return {
    text: Object.fromEntries(SITE_FIELDS.map(({ key }) => [key, String(site[key])])),
    tariff: tariffDraftOf(site.tariff),
    versions: versionDraftsOf(site),
    emissions: emissionDraftsOf(site),
    holidays: holidayDraftsOf(site),
    calendars: calendarDraftsOf(site),
    costs: threesOf(site.optionCosts),
    upkeep: threesOf(site.optionMaintenance),
    lives: Object.fromEntries(OPTION_IDS.map((id) => [id, String(site.optionLifetimeYears[id] ?? '')])),
    cooling: site.cooling ? String(site.cooling.electricPerHeat) : '',
    budget: site.budget === undefined ? '' : String(site.budget),
  }
}

/** Low, likely and high of every option as typed. */
function threesOf(of: Site['optionCosts']): SiteDraft['costs'] {
  return Object.fromEntries(
    OPTION_IDS.map((id) => {
      const three = of[id]
      return [id, three ? [String(three[0]), String(three[1]), String(three[2])] : NONE]
    }),
  )
}

/** Those of which anything was typed. */
const threesJson = (of: SiteDraft['costs']) =>
  Object.fromEntries(
    Object.entries(of)
      .filter(([, three]) => three.some((text) => text.trim() !== ''))
      .map(([id, three]) => [id, three.map(needed)]),
  )

/** Lists that hold anything. */
const listsOf = (lists: Readonly<Record<string, readonly unknown[]>>) =>
  Object.fromEntries(Object.entries(lists).filter(([, list]) => list.length > 0))

/** What the form says, as SITE.json, not yet checked. */
export function siteJsonOf(draft: SiteDraft): unknown {
  const json: Record<string, unknown> = {
    version: 1,
    ...listsOf({
      tariffs: draft.versions.map(versionJsonOf),
      emissions: draft.emissions.map(emissionJsonOf),
      holidays: draft.holidays.map(holidayJsonOf),
      calendars: draft.calendars.map(calendarJsonOf),
    }),
  }
  for (const { key, numeric } of SITE_FIELDS) {
    json[key] = numeric ? needed(draft.text[key]) : draft.text[key].trim()
  }
  if (!isTariffEmpty(draft.tariff)) json.tariff = tariffJsonOf(draft.tariff)
  json.optionCosts = threesJson(draft.costs)
  json.optionMaintenance = threesJson(draft.upkeep)
  json.optionLifetimeYears = Object.fromEntries(
    Object.entries(draft.lives)
      .filter(([, years]) => years.trim() !== '')
      .map(([id, years]) => [id, numberOf(years)]),
  )
  if (draft.cooling.trim() !== '') json.cooling = { electricPerHeat: numberOf(draft.cooling) }
  if (draft.budget.trim() !== '') json.budget = numberOf(draft.budget)
  return json
}

const ORDER_OF_THREE = 'Low, likely and high must rise in this order.'

export interface CheckedSite {
  readonly site: Site | null
  readonly errors: Readonly<Record<string, string>>
}

const endErrors = ({ from, until }: { from?: string; until?: string }, place: string) =>
  from && until && until < from ? { [`${place}.until`]: `Must be ${from} or later.` } : {}

/** Checks against the published shape, and that the zone, the currency and the order of costs make sense. */
export function checkSite(json: unknown): CheckedSite {
  const parsed = siteSchema.safeParse(json)
  if (!parsed.success) {
    const errors = { ...errorsOf(parsed.error) }
    for (const path of Object.keys(errors)) {
      if (/^optionMaintenance\.[a-z-]+$/.test(path)) errors[path] = ORDER_OF_THREE
    }
    return { site: null, errors }
  }
  const site = parsed.data
  const errors: Record<string, string> = {}
  try {
    new Intl.DateTimeFormat('en', { timeZone: site.timeZone })
  } catch {
    errors.timeZone = 'No such time zone. Write it as in Europe/Vienna.'
  }
  if (!/^[A-Z]{3}$/.test(site.currency)) errors.currency = 'Three capital letters, as in EUR.'
  for (const [id, [low, likely, high]] of Object.entries(site.optionCosts)) {
    if (low > likely || likely > high) errors[`optionCosts.${id}`] = ORDER_OF_THREE
  }
  for (const [i, calendar] of (site.calendars ?? []).entries()) {
    Object.assign(errors, endErrors(calendar, `calendars.${i}`))
    for (const [k, days] of calendar.exceptions.entries())
      Object.assign(errors, endErrors(days, `calendars.${i}.exceptions.${k}`))
  }
  return Object.keys(errors).length ? { site: null, errors } : { site, errors }
}
