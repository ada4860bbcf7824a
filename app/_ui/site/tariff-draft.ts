import type { Site } from '@/lib/contract/site'
import { rowKey } from '../row-key'
import { numberOf } from '../setup/typed-number'

type Tariff = NonNullable<Site['tariff']>
type Version = NonNullable<Site['tariffs']>[number]

/** Days of every year, as typed. */
export interface SeasonDraft {
  readonly key: string
  readonly from: string
  readonly to: string
}

export interface BandDraft {
  readonly key: string
  readonly name: string
  readonly weekdays: readonly number[]
  readonly dayTypes: readonly string[]
  readonly seasons: readonly SeasonDraft[]
  readonly fromHour: string
  readonly toHour: string
  readonly pricePerKWh: string
}

/** Bands and charges as typed; a charge without a price is none. */
export interface TariffDraft {
  readonly bands: readonly BandDraft[]
  readonly demand: { readonly price: string; readonly window: string; readonly coincidence: string }
  readonly reactive: { readonly price: string; readonly free: string }
}

/** A tariff with the days it holds on. */
export interface VersionDraft extends TariffDraft {
  readonly key: string
  readonly name: string
  readonly from: string
  readonly until: string
  readonly price: string
}

export interface EmissionDraft {
  readonly key: string
  readonly from: string
  readonly until: string
  readonly factor: string
}

/** Counts as a weekday, `1` to `7`, or with an empty one as a type of day by name. */
export interface HolidayDraft {
  readonly key: string
  readonly date: string
  readonly name: string
  readonly weekday: string
  readonly dayType: string
}

const WORKDAYS = [1, 2, 3, 4, 5]
const NO_DEMAND = { price: '', window: '15', coincidence: '1' }
const NO_REACTIVE = { price: '', free: '0.5' }

export const newSeason = (): SeasonDraft => ({ key: rowKey(), from: '', to: '' })
export const newEmission = (): EmissionDraft => ({ key: rowKey(), from: '', until: '', factor: '' })
export const newHoliday = (): HolidayDraft => ({
  key: rowKey(),
  date: '',
  name: '',
  weekday: '7',
  dayType: '',
})
export const newBand = (): BandDraft => ({
  key: rowKey(),
  name: '',
  weekdays: WORKDAYS,
  dayTypes: [],
  seasons: [],
  fromHour: '6',
  toHour: '22',
  pricePerKWh: '',
})

/** A version to begin with: what holds before it, so that a new price keeps bands and charges. */
export function newVersion(before: TariffDraft, price: string): VersionDraft {
  const bands = before.bands.map((band) => ({ ...band, key: rowKey() }))
  return {
    ...before,
    bands,
    key: rowKey(),
    name: '',
    from: '',
    until: '',
    price,
  }
}

export function tariffDraftOf(tariff: Tariff | Version | undefined): TariffDraft {
  const demand = tariff?.demand
  const reactive = tariff?.reactive
  return {
    bands: (tariff?.bands ?? []).map((band, i) => ({
      key: `${i} ${band.name}`,
      name: band.name,
      weekdays: band.weekdays,
      dayTypes: band.dayTypes ?? [],
      seasons: (band.seasons ?? []).map((season, k) => ({ key: String(k), ...season })),
      fromHour: String(band.fromHour),
      toHour: String(band.toHour),
      pricePerKWh: String(band.pricePerKWh),
    })),
    demand: demand
      ? {
          price: String(demand.pricePerKWMonth),
          window: String(demand.windowMinutes),
          coincidence: String(demand.coincidenceShare),
        }
      : NO_DEMAND,
    reactive: reactive
      ? { price: String(reactive.pricePerKvarh), free: String(reactive.freeKvarhPerKWh) }
      : NO_REACTIVE,
  }
}

export const versionDraftsOf = (site: Site): VersionDraft[] =>
  (site.tariffs ?? []).map((version) => ({
    key: version.from,
    name: version.name ?? '',
    from: version.from,
    until: version.until ?? '',
    price: String(version.energyPricePerKWh),
    ...tariffDraftOf(version),
  }))

export const emissionDraftsOf = (site: Site): EmissionDraft[] =>
  (site.emissions ?? []).map(({ from, until, kgPerKWh }) => ({
    key: from,
    from,
    until: until ?? '',
    factor: String(kgPerKWh),
  }))

export const holidayDraftsOf = (site: Site): HolidayDraft[] =>
  (site.holidays ?? []).map(({ date, name, countsAs }, i) => ({
    key: `${i} ${date}`,
    date,
    name: name ?? '',
    weekday: typeof countsAs === 'number' ? String(countsAs) : '',
    dayType: typeof countsAs === 'string' ? countsAs : '',
  }))

/** Names of the types of day that holidays make. */
export const dayTypesOf = (holidays: readonly HolidayDraft[]): string[] => [
  ...new Set(
    holidays.flatMap(({ weekday, dayType }) => (weekday === '' && dayType.trim() ? [dayType.trim()] : [])),
  ),
]

/** What was typed, else nothing: for entries that may be left out. */
export const typedPart = (key: string, text: string): Record<string, string> =>
  text.trim() ? { [key]: text.trim() } : {}

/** What must be a number: what was typed, for the schema to refuse where it is none. */
export const needed = (text: string) => numberOf(text) ?? ''

export function tariffJsonOf({ bands, demand, reactive }: TariffDraft): Record<string, unknown> {
  return {
    bands: bands.map((band) => ({
      name: band.name.trim(),
      weekdays: band.weekdays,
      ...(band.dayTypes.length > 0 ? { dayTypes: band.dayTypes } : {}),
      ...(band.seasons.length > 0
        ? { seasons: band.seasons.map(({ from, to }) => ({ from: from.trim(), to: to.trim() })) }
        : {}),
      fromHour: needed(band.fromHour),
      toHour: needed(band.toHour),
      pricePerKWh: needed(band.pricePerKWh),
    })),
    ...(demand.price.trim()
      ? {
          demand: {
            pricePerKWMonth: needed(demand.price),
            windowMinutes: needed(demand.window),
            coincidenceShare: needed(demand.coincidence),
          },
        }
      : {}),
    ...(reactive.price.trim()
      ? { reactive: { pricePerKvarh: needed(reactive.price), freeKvarhPerKWh: needed(reactive.free) } }
      : {}),
  }
}

export const isTariffEmpty = ({ bands, demand, reactive }: TariffDraft) =>
  bands.length === 0 && !demand.price.trim() && !reactive.price.trim()

export const versionJsonOf = (draft: VersionDraft): unknown => ({
  ...typedPart('name', draft.name),
  from: draft.from.trim(),
  ...typedPart('until', draft.until),
  energyPricePerKWh: needed(draft.price),
  ...tariffJsonOf(draft),
})

export const emissionJsonOf = ({ from, until, factor }: EmissionDraft): unknown => ({
  from: from.trim(),
  ...typedPart('until', until),
  kgPerKWh: needed(factor),
})

export const holidayJsonOf = ({ date, name, weekday, dayType }: HolidayDraft): unknown => ({
  date: date.trim(),
  ...typedPart('name', name),
  countsAs: weekday ? Number(weekday) : dayType.trim(),
})
