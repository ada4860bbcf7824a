'use client'
import { useRouter } from 'next/navigation'
import { useMemo, useState } from 'react'
import { type Site, TARIFF_KEYS, tariffFileSchema } from '@/lib/contract/site'
import { wallClock } from '@/lib/economics/local-time'
import { repricedDay } from '@/lib/economics/tariff-version'
import { send } from '../api'
import { Field } from '../field'
import { JsonPanel } from '../json-panel'
import { importErrors, SettingsForm } from '../settings-form'
import { errorsOf } from '../setup/draft'
import { CalendarRows } from './calendar-rows'
import { CostTable } from './cost-table'
import { DatedPrices } from './dated-prices'
import { EmissionRows } from './emission-rows'
import { HolidayRows } from './holiday-rows'
import type { MachineOfLine } from './machine-checks'
import { checkSite, SITE_FIELDS, type SiteDraft, siteDraftOf, siteJsonOf } from './site-draft'
import { dayTypesOf } from './tariff-draft'
import { TariffFields } from './tariff-fields'
import { UpkeepTable } from './upkeep-table'

const MONTH_LENGTH = 'YYYY-MM'.length

/** Prices, emission factors, holidays and shifts of a site alone, as a file of their own holds them. */
const tariffsOf = (json: unknown): unknown =>
  Object.fromEntries(
    Object.entries(json ?? {}).filter(([key]) => key === 'version' || TARIFF_KEYS.some((one) => one === key)),
  )

/** Price, currency, zone, shifts and costs of the site as a form, and the same as JSON. */
export function SiteForm({
  site,
  machines,
  loggedMonths,
  nowMs,
}: {
  site: Site
  machines: readonly MachineOfLine[]
  /** Months of which there are logs: what they cost is what a change may correct. */
  loggedMonths: readonly string[]
  nowMs: number
}) {
  const router = useRouter()
  const [draft, setDraft] = useState<SiteDraft>(() => siteDraftOf(site))
  const [author, setAuthor] = useState('')
  const [reason, setReason] = useState('')
  const json = useMemo(() => siteJsonOf(draft), [draft])
  const checked = useMemo(() => checkSite(json), [json])
  const today = wallClock(nowMs, site.timeZone).date
  const repriced = useMemo(
    () => checked.site && repricedDay(loggedMonths, today, site, checked.site),
    [checked, loggedMonths, today, site],
  )
  const errors =
    repriced && !reason.trim()
      ? {
          ...checked.errors,
          reason: `Days from ${repriced} on that were logged would cost or emit otherwise: say why. For a price that holds from a day on, add a price with dates.`,
        }
      : checked.errors
  const currency = draft.text.currency || 'EUR'
  const dayTypes = dayTypesOf(draft.holidays)
  const change = (part: Partial<SiteDraft>) => setDraft((now) => ({ ...now, ...part }))

  const save = async () => {
    await send('PUT', `/api/site?${new URLSearchParams({ author, reason })}`, checked.site)
    setReason('')
    router.refresh()
    return 'Saved. All figures are being brought up to date with it.'
  }
  const takeOver = (value: unknown) => {
    const read = checkSite(value)
    if (!read.site) return importErrors(read.errors)
    setDraft(siteDraftOf(read.site))
    return null
  }
  const takeOverTariffs = (value: unknown) => {
    const read = tariffFileSchema.safeParse(value)
    if (!read.success) return importErrors(errorsOf(read.error))
    const before = Object.entries(json ?? {})
    const required = ['energyPricePerKWh', 'emissionKgPerKWh', 'plannedHoursPerYear']
    const kept = before.filter(([key]) => required.includes(key) || !TARIFF_KEYS.some((one) => one === key))
    return takeOver({ ...Object.fromEntries(kept), ...read.data })
  }

  return (
    <>
      <SettingsForm entries={json} errors={errors} verb="Save" save={save}>
        {(shown) => (
          <>
            <div className="fields" style={{ marginBottom: '1rem' }}>
              {SITE_FIELDS.map((spec) => (
                <Field
                  key={spec.key}
                  label={spec.label}
                  unit={spec.key === 'energyPricePerKWh' ? `${currency}/kWh` : spec.unit}
                  help={spec.help}
                  numeric={spec.numeric}
                  value={draft.text[spec.key]}
                  error={shown[spec.key]}
                  onChange={(value) => change({ text: { ...draft.text, [spec.key]: value } })}
                />
              ))}
            </div>
            <TariffFields
              tariff={draft.tariff}
              place="tariff"
              currency={currency}
              dayTypes={dayTypes}
              errors={shown}
              onChange={(part) => change({ tariff: { ...draft.tariff, ...part } })}
            />
            <DatedPrices
              versions={draft.versions}
              base={draft.tariff}
              basePrice={draft.text.energyPricePerKWh}
              currency={currency}
              dayTypes={dayTypes}
              errors={shown}
              onChange={(versions) => change({ versions })}
            />
            <EmissionRows
              emissions={draft.emissions}
              errors={shown}
              onChange={(emissions) => change({ emissions })}
            />
            <HolidayRows
              holidays={draft.holidays}
              errors={shown}
              onChange={(holidays) => change({ holidays })}
            />
            <CalendarRows
              calendars={draft.calendars}
              machines={machines}
              dayTypes={dayTypes}
              checked={checked.site}
              month={today.slice(0, MONTH_LENGTH)}
              errors={shown}
              onChange={(calendars) => change({ calendars })}
            />
            <fieldset>
              <legend>Oil cooling and budget</legend>
              <div className="fields">
                <Field
                  label="Electricity of cooling"
                  optional
                  unit="kW/kW"
                  help="What the chiller or fans take for each kW of heat that they take out of the oil; empty where water or bare air cools it."
                  numeric
                  value={draft.cooling}
                  error={shown['cooling.electricPerHeat']}
                  onChange={(cooling) => change({ cooling })}
                />
                <Field
                  label="Budget"
                  optional
                  unit={currency}
                  help="Most that may be spent on one machine: the best set that it buys is shown."
                  numeric
                  value={draft.budget}
                  error={shown.budget}
                  onChange={(budget) => change({ budget })}
                />
              </div>
            </fieldset>
            <CostTable
              costs={draft.costs}
              currency={currency}
              errors={shown}
              onChange={(costs) => change({ costs })}
            />
            <UpkeepTable
              upkeep={draft.upkeep}
              lives={draft.lives}
              siteLife={draft.text.lifetimeYears}
              currency={currency}
              errors={shown}
              onChange={change}
            />
            <fieldset>
              <legend>Who changes it</legend>
              <p className="soft">Every state of these settings is kept with it.</p>
              <div className="fields">
                <Field label="Your name" optional value={author} onChange={setAuthor} />
                <Field
                  label="Reason"
                  optional={!repriced}
                  help={
                    repriced
                      ? `This corrects what days from ${repriced} on cost or emit, but for closed months.`
                      : undefined
                  }
                  value={reason}
                  error={shown.reason}
                  onChange={setReason}
                />
              </div>
            </fieldset>
          </>
        )}
      </SettingsForm>
      <JsonPanel json={json} fileName="site.json" onApply={takeOver} />
      <JsonPanel
        title="Tariffs, holidays and shifts alone, as JSON"
        about="What a file of tariffs and calendars leaves out is gone, but for the prices and hours that every site has. It is saved with the form, name and reason with it."
        json={tariffsOf(json)}
        fileName="tariffs-and-calendars.json"
        onApply={takeOverTariffs}
      />
    </>
  )
}
