'use client'
import { useRouter } from 'next/navigation'
import { useMemo, useState } from 'react'
import type { Site } from '@/lib/contract/site'
import { send } from '../api'
import { Field } from '../field'
import { JsonPanel } from '../json-panel'
import { BandRows } from './band-rows'
import { CostTable } from './cost-table'
import { checkSite, SITE_FIELDS, type SiteDraft, siteDraftOf, siteJsonOf } from './site-draft'
import { UpkeepTable } from './upkeep-table'

/** What past days cost and emit by. */
const pricesOf = (site: Site | null) =>
  site && [
    site.energyPricePerKWh,
    site.emissionKgPerKWh,
    site.tariff?.bands ?? [],
    site.tariff?.demand ?? null,
  ]

/** Price, currency, zone, hours and costs of the site as a form, and the same as JSON. */
export function SiteForm({ site }: { site: Site }) {
  const router = useRouter()
  const [draft, setDraft] = useState<SiteDraft>(() => siteDraftOf(site))
  const [isTried, setTried] = useState(false)
  const [isBusy, setBusy] = useState(false)
  const [author, setAuthor] = useState('')
  const [reason, setReason] = useState('')
  const [said, setSaid] = useState<{ text: string; bad: boolean } | null>(null)
  const json = useMemo(() => siteJsonOf(draft), [draft])
  const checked = useMemo(() => checkSite(json), [json])
  const isPriceChanged =
    JSON.stringify(pricesOf(checked.site)) !== JSON.stringify(pricesOf(site)) && checked.site !== null
  const errors = isTried ? checked.errors : {}
  const currency = draft.text.currency || 'EUR'
  const change = (part: Partial<SiteDraft>) => {
    setSaid(null)
    setDraft((now) => ({ ...now, ...part }))
  }

  const save = async () => {
    setTried(true)
    if (isPriceChanged && !reason.trim()) {
      setSaid({
        text: 'Another price, tariff or emission factor here holds for past days too: say why. For a price that holds from a day on, use the prices with dates below.',
        bad: true,
      })
      return
    }
    if (!checked.site) {
      setSaid({ text: 'Some entries need attention; nothing was saved.', bad: true })
      return
    }
    setBusy(true)
    try {
      const said = new URLSearchParams({ author, reason })
      await send('PUT', `/api/site?${said}`, checked.site)
      setSaid({ text: 'Saved. All figures are being brought up to date with it.', bad: false })
      router.refresh()
    } catch (error) {
      setSaid({ text: error instanceof Error ? error.message : String(error), bad: true })
    } finally {
      setBusy(false)
    }
  }

  return (
    <>
      <form
        className="sheet"
        noValidate
        onSubmit={(event) => {
          event.preventDefault()
          void save()
        }}
      >
        <div className="fields" style={{ marginBottom: '1rem' }}>
          {SITE_FIELDS.map((spec) => (
            <Field
              key={spec.key}
              label={spec.label}
              unit={spec.key === 'energyPricePerKWh' ? `${currency}/kWh` : spec.unit}
              help={spec.help}
              numeric={spec.numeric}
              value={draft.text[spec.key]}
              error={errors[spec.key]}
              onChange={(value) => change({ text: { ...draft.text, [spec.key]: value } })}
            />
          ))}
        </div>
        <BandRows
          bands={draft.bands}
          currency={currency}
          errors={errors}
          onChange={(bands) => change({ bands })}
        />
        <fieldset>
          <legend>Demand charge</legend>
          <div className="fields">
            <Field
              label="Price"
              optional
              unit={`${currency}/kW`}
              help="Per kW of the month’s highest mean, and month."
              numeric
              value={draft.demand.price}
              error={errors['tariff.demand.pricePerKWMonth']}
              onChange={(price) => change({ demand: { ...draft.demand, price } })}
            />
            <Field
              label="Window"
              unit="min"
              help="Over which the mean is taken."
              numeric
              value={draft.demand.window}
              error={errors['tariff.demand.windowMinutes']}
              onChange={(window) => change({ demand: { ...draft.demand, window } })}
            />
            <Field
              label="Coincidence"
              unit="0–1"
              help="How far a machine’s peak falls together with the site’s."
              numeric
              value={draft.demand.coincidence}
              error={errors['tariff.demand.coincidenceShare']}
              onChange={(coincidence) => change({ demand: { ...draft.demand, coincidence } })}
            />
          </div>
        </fieldset>
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
              error={errors['cooling.electricPerHeat']}
              onChange={(cooling) => change({ cooling })}
            />
            <Field
              label="Budget"
              optional
              unit={currency}
              help="Most that may be spent on one machine: the best set that it buys is shown."
              numeric
              value={draft.budget}
              error={errors.budget}
              onChange={(budget) => change({ budget })}
            />
          </div>
        </fieldset>
        <CostTable
          costs={draft.costs}
          currency={currency}
          errors={errors}
          onChange={(costs) => change({ costs })}
        />
        <UpkeepTable
          upkeep={draft.upkeep}
          lives={draft.lives}
          siteLife={draft.text.lifetimeYears}
          currency={currency}
          errors={errors}
          onChange={change}
        />
        <fieldset>
          <legend>Who changes it</legend>
          <p className="soft">Every state of these settings is kept with it.</p>
          <div className="fields">
            <Field label="Your name" optional value={author} onChange={setAuthor} />
            <Field
              label="Reason"
              optional={!isPriceChanged}
              help={
                isPriceChanged
                  ? 'This corrects what past days cost, but for those of dated prices and closed months.'
                  : undefined
              }
              value={reason}
              onChange={setReason}
            />
          </div>
        </fieldset>
        <p className={said?.bad ? 'error' : ''} role="status">
          {said?.text}
        </p>
        <button type="submit" className="main" disabled={isBusy}>
          {isBusy ? 'Saving …' : 'Save'}
        </button>
      </form>
      <JsonPanel
        json={json}
        fileName="site.json"
        onApply={(value) => {
          const read = checkSite(value)
          if (!read.site) {
            return Object.entries(read.errors)
              .map(([path, text]) => `${path || 'the whole'}: ${text}`)
              .join('\n')
          }
          change(siteDraftOf(read.site))
          return null
        }}
      />
    </>
  )
}
