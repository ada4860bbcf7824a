import { OPTION_IDS } from '@/lib/contract/result'
import { type Site, siteSchema } from '@/lib/contract/site'
import { errorsOf } from '../setup/draft'

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

type Band = NonNullable<Site['tariff']>['bands'][number]

/** What a file alone sets, beside the form: it goes through the form as it came. */
export type KeptSettings = Pick<Site, 'tariffs' | 'emissions' | 'holidays' | 'calendars'> & {
  readonly reactive: NonNullable<Site['tariff']>['reactive']
}

export interface BandDraft {
  readonly key: string
  readonly name: string
  readonly weekdays: readonly number[]
  readonly fromHour: string
  readonly toHour: string
  readonly pricePerKWh: string
  /** Types of day and seasons, which a file alone sets. */
  readonly kept: Pick<Band, 'dayTypes' | 'seasons'>
}

export interface SiteDraft {
  readonly text: Readonly<Record<string, string>>
  readonly bands: readonly BandDraft[]
  /** Demand charge: price per kW and month, window in minutes, coincidence share; empty price = none. */
  readonly demand: { readonly price: string; readonly window: string; readonly coincidence: string }
  /** Low, likely, high by option id; all empty = the shipped placeholder. */
  readonly costs: Readonly<Record<string, readonly [string, string, string]>>
  /** More upkeep a year by option id; all empty = none. And years of life of its own; empty = the site's. */
  readonly upkeep: Readonly<Record<string, readonly [string, string, string]>>
  readonly lives: Readonly<Record<string, string>>
  /** Electricity per heat of what cools the oil, empty = not powered; and the most to be spent, empty = no limit. */
  readonly cooling: string
  readonly budget: string
  readonly kept: KeptSettings
}

const NONE: readonly [string, string, string] = ['', '', '']

export function siteDraftOf(site: Site): SiteDraft {
  return {
    text: Object.fromEntries(SITE_FIELDS.map(({ key }) => [key, String(site[key])])),
    bands: (site.tariff?.bands ?? []).map((band, index) => ({
      key: `${index} ${band.name}`,
      name: band.name,
      weekdays: band.weekdays,
      fromHour: String(band.fromHour),
      toHour: String(band.toHour),
      pricePerKWh: String(band.pricePerKWh),
      kept: { dayTypes: band.dayTypes, seasons: band.seasons },
    })),
    demand: {
      price: site.tariff?.demand ? String(site.tariff.demand.pricePerKWMonth) : '',
      window: String(site.tariff?.demand?.windowMinutes ?? 15),
      coincidence: String(site.tariff?.demand?.coincidenceShare ?? 1),
    },
    costs: threesOf(site.optionCosts),
    upkeep: threesOf(site.optionMaintenance),
    lives: Object.fromEntries(OPTION_IDS.map((id) => [id, String(site.optionLifetimeYears[id] ?? '')])),
    cooling: site.cooling ? String(site.cooling.electricPerHeat) : '',
    budget: site.budget === undefined ? '' : String(site.budget),
    kept: {
      tariffs: site.tariffs,
      emissions: site.emissions,
      holidays: site.holidays,
      calendars: site.calendars,
      reactive: site.tariff?.reactive,
    },
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
      .map(([id, three]) => [id, three.map((text) => numberOf(text) ?? '')]),
  )

function numberOf(text: string): number | string | undefined {
  const trimmed = text.trim().replace(',', '.')
  if (trimmed === '') return undefined
  const value = Number(trimmed)
  return Number.isNaN(value) ? text : value
}

/** Those that are set. */
const present = (of: Readonly<Record<string, unknown>>) =>
  Object.fromEntries(Object.entries(of).filter(([, value]) => value !== undefined))

/** What the form says, as SITE.json, not yet checked. */
export function siteJsonOf(draft: SiteDraft): unknown {
  const { reactive, ...versions } = draft.kept
  const json: Record<string, unknown> = { version: 1, ...present(versions) }
  for (const { key, numeric } of SITE_FIELDS) {
    json[key] = numeric ? (numberOf(draft.text[key]) ?? '') : draft.text[key].trim()
  }
  const hasDemand = draft.demand.price.trim() !== ''
  if (draft.bands.length || hasDemand || reactive) {
    json.tariff = {
      bands: draft.bands.map((band) => ({
        name: band.name.trim(),
        weekdays: band.weekdays,
        fromHour: numberOf(band.fromHour) ?? '',
        toHour: numberOf(band.toHour) ?? '',
        pricePerKWh: numberOf(band.pricePerKWh) ?? '',
        ...present(band.kept),
      })),
      ...present({ reactive }),
      ...(hasDemand
        ? {
            demand: {
              pricePerKWMonth: numberOf(draft.demand.price),
              windowMinutes: numberOf(draft.demand.window) ?? '',
              coincidenceShare: numberOf(draft.demand.coincidence) ?? '',
            },
          }
        : {}),
    }
  }
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
  return Object.keys(errors).length ? { site: null, errors } : { site, errors }
}
