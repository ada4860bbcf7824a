import { ENGINE_VERSION } from '@/app/_jobs/engine-version'
import { dateTime, entered, percent } from '@/app/_ui/format'
import { BASIS_NAMES } from '@/app/_ui/labels'
import type { Validity } from '@/lib/contract/local-dates'
import type { Site } from '@/lib/contract/site'
import { dayAfter } from '@/lib/economics/local-time'
import { type DayTariff, emissionOn, tariffOn } from '@/lib/economics/tariff-version'
import { lastBeginning } from '@/lib/economics/validity'
import type { ReportSection } from './report'

/** Days that a report is of, the first and the last among them. */
export interface ReportDays {
  readonly from: string
  readonly until: string
}

function tariffText({ bands, demand, reactive, energyPricePerKWh }: DayTariff, currency: string): string {
  const flat = `${entered(energyPricePerKWh)} ${currency}/kWh`
  const named = bands.map(({ name, pricePerKWh }) => `${name} ${entered(pricePerKWh)}`).join(', ')
  return [
    bands.length > 0 ? `${bands.length} time-of-use bands (${named} ${currency}/kWh), else ${flat}` : flat,
    demand
      ? `demand ${entered(demand.pricePerKWMonth)} ${currency} per kW and month, mean over ${entered(demand.windowMinutes)} min`
      : 'no demand charge',
    ...(reactive
      ? [
          `reactive energy ${entered(reactive.pricePerKvarh)} ${currency}/kvarh above ${entered(reactive.freeKvarhPerKWh)} kvarh/kWh`,
        ]
      : []),
  ].join('; ')
}

/** What held on the days of a report, each with the day it began to hold where it changed in between. */
function onDays(
  days: ReportDays | null,
  versions: readonly Validity[] | undefined,
  textOn: (date: string) => string,
): string {
  const from = days?.from ?? lastBeginning(versions)
  const until = days?.until ?? from
  const edges = (versions ?? []).flatMap((one) => [one.from, ...(one.until ? [dayAfter(one.until)] : [])])
  const begins = [...new Set(edges)].filter((date) => from < date && date <= until).sort()
  const texts = [textOn(from), ...begins.map((date) => `from ${date} ${textOn(date)}`)]
  return texts.join('; ')
}

/** Prices, factors and limits that the figures rest on. @param days of the report; null where they have no date */
export function settingsFacts(site: Site, days: ReportDays | null): (readonly [string, string])[] {
  const { currency, calendars = [] } = site
  const year = `${entered(site.plannedHoursPerYear)} h a year ± ${percent(site.plannedHoursLimitShare)}`
  return [
    ['Site', site.name],
    ['Time zone of days and months', site.timeZone],
    ['Tariff', onDays(days, site.tariffs, (date) => tariffText(tariffOn(date, site), currency))],
    [
      'Emission factor',
      onDays(days, site.emissions, (date) => `${entered(emissionOn(date, site))} kg CO₂ per kWh`),
    ],
    [
      'Planned hours',
      calendars.length > 0
        ? `${year}; of months by the shift calendars ${calendars.map(({ name }) => `“${name}”`).join(', ')} where they hold`
        : year,
    ],
    ['Doubt of the price over the life', `± ${percent(site.energyPriceLimitShare)}`],
    ['Discount rate', percent(site.discountRate)],
    ['Life of a fix', `${entered(site.lifetimeYears)} years unless entered for the option`],
  ]
}

/** Who made it when, with what. */
export function madeFacts(now: Date, timeZone: string): (readonly [string, string])[] {
  return [
    ['Made', dateTime(now, timeZone)],
    ['Engine of today', `version ${ENGINE_VERSION}; the version of each log’s analysis stands with the log`],
  ]
}

/** How figures of any report come about, for a reader who was not there. */
export const METHOD: ReportSection = {
  id: 'method',
  title: 'Method',
  list: [
    'Energy: in each sample the electric input is measured, or worked out from current and nameplate; hydraulic power is pressure × flow. The account of every sample adds up to its input; what sensors contradict stands on its own line as unaccounted.',
    'At the meter: each stream of oil carries its share of pump and motor loss; while nothing moves, all input is idle. These shares add up to the input.',
    `Basis: ${BASIS_NAMES.measured}: by a fitted sensor; ${BASIS_NAMES.estimated}: by a model fed by sensors; ${BASIS_NAMES.default}: by defaults alone.`,
    'Intervals hold the truth 95 times in 100: accuracy of sensors (one constant offset for each sensor and log), parameters of models, scatter between cycles, doubt of the year’s hours; by the Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008), money by seeded Monte Carlo (JCGM 101:2008).',
    'Savings: the logged demand is replayed on the changed supply; saving = model before − model after on the same log. Savings of single options are never added up; sets are replayed as sets.',
    'Model against log: mean bias (NMBE) and scatter (CV(RMSE)) as defined in ASHRAE Guideline 14. Where no electric power was measured the model is not called trusted.',
    'Each figure opens to formula, inputs, sensors and parts of its interval on the page of its machine; original files are kept byte for byte under their SHA-256.',
  ],
}

export const CAUTIONS: ReportSection = {
  id: 'cautions',
  title: 'Before anything is changed',
  list: [
    'Lock out, relieve stored energy and verify; accumulators and raised loads stay charged after shutdown.',
    'Never set a relief above the rating of the weakest component. A vent or a second setting must never leave a raised load unsupported, nor take the pressure from clamps, brakes or pilot supplies.',
    'A person confirms the loads that no log shows (cold start, jam, largest tool) before any pressure is lowered. A changed circuit of a press, lift or clamp calls for a new safety assessment.',
    'This report advises. Local codes, the machine’s manual and a qualified person decide.',
  ],
}
