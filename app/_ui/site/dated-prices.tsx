'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { type Site, tariffFileSchema } from '@/lib/contract/site'
import { send } from '../api'
import { Field } from '../field'
import { entered } from '../format'
import { Scroll } from '../scroll'
import { fileErrors, withPriceFrom } from './tariff-file'

const today = () => new Date().toISOString().slice(0, 'YYYY-MM-DD'.length)

/** Prices that hold on certain days, holidays and shifts: shown, added to, taken out and put in as a file. */
export function DatedPrices({ site }: { site: Site }) {
  const router = useRouter()
  const [from, setFrom] = useState(today)
  const [price, setPrice] = useState('')
  const [author, setAuthor] = useState('')
  const [reason, setReason] = useState('')
  const [said, setSaid] = useState<{ lines: readonly string[]; bad: boolean } | null>(null)
  const [isBusy, setBusy] = useState(false)
  const { tariffs = [], emissions = [], holidays = [], calendars = [] } = site

  const put = async (path: string, json: unknown, done: string) => {
    setBusy(true)
    try {
      await send('PUT', `${path}?${new URLSearchParams({ author, reason })}`, json)
      setSaid({ lines: [done], bad: false })
      router.refresh()
    } catch (error) {
      setSaid({ lines: [error instanceof Error ? error.message : String(error)], bad: true })
    } finally {
      setBusy(false)
    }
  }
  const add = () => {
    const next = withPriceFrom(site, from, price)
    if (next.errors.length > 0) return setSaid({ lines: next.errors, bad: true })
    return put('/api/site', next.site, 'Saved. Days before it cost what they cost.')
  }
  const upload = async (file: File | undefined) => {
    if (!file) return
    let json: unknown
    try {
      json = JSON.parse(await file.text())
    } catch (error) {
      return setSaid({
        lines: [`${file.name}: no JSON, ${error instanceof Error ? error.message : ''}`],
        bad: true,
      })
    }
    const read = tariffFileSchema.safeParse(json)
    if (!read.success) return setSaid({ lines: fileErrors(read.error, json), bad: true })
    await put('/api/site/tariffs', json, `Saved: ${file.name} stands in the place of what was here.`)
  }

  return (
    <section className="sheet" aria-labelledby="dated">
      <h2 id="dated">Prices with dates, holidays and shifts</h2>
      <p className="soft">
        A price that begins on a day changes nothing of the days before it. Outside of all of them the energy
        price and bands above hold.
      </p>
      {tariffs.length ? (
        <Scroll label="Prices with dates">
          <table>
            <thead>
              <tr>
                <th scope="col">From</th>
                <th scope="col">Until</th>
                <th scope="col" className="num">
                  Price <span className="unit">{site.currency}/kWh</span>
                </th>
                <th scope="col" className="num">
                  Bands
                </th>
                <th scope="col" className="num">
                  Demand <span className="unit">{site.currency}/kW</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {[...tariffs]
                .sort((a, b) => a.from.localeCompare(b.from))
                .map((one) => (
                  <tr key={one.from}>
                    <th scope="row">{one.from}</th>
                    <td>{one.until ?? 'the next begins'}</td>
                    <td className="num">{entered(one.energyPricePerKWh)}</td>
                    <td className="num">{one.bands.length || 'none'}</td>
                    <td className="num">{one.demand ? entered(one.demand.pricePerKWMonth) : 'none'}</td>
                  </tr>
                ))}
            </tbody>
          </table>
        </Scroll>
      ) : null}
      <p>
        {tariffs.length} dated prices, {emissions.length} dated emission factors, {holidays.length} holidays,{' '}
        {calendars.length} shift calendars
        {calendars.length ? ` (${calendars.map(({ name }) => name).join(', ')})` : ''}.
      </p>
      <div className="fields">
        <Field label="New price" unit={`${site.currency}/kWh`} numeric value={price} onChange={setPrice} />
        <Field
          label="Holds from"
          help="Year-month-day; that day is the first."
          value={from}
          onChange={setFrom}
        />
        <Field label="Your name" optional value={author} onChange={setAuthor} />
        <Field label="Reason" optional value={reason} onChange={setReason} />
      </div>
      <div className="actions" style={{ margin: '.75rem 0' }}>
        <button type="button" disabled={isBusy} onClick={() => void add()}>
          Add the price
        </button>
        <a className="button" href="/api/site/tariffs" download="tariffs-and-calendars.json">
          Take them out as a file
        </a>
        <label className="button">
          Put a file in their place
          <input
            type="file"
            accept="application/json,.json"
            className="sr"
            disabled={isBusy}
            onChange={(event) => {
              void upload(event.target.files?.[0])
              event.target.value = ''
            }}
          />
        </label>
      </div>
      <div className={said?.bad ? 'error' : ''} role="status">
        {said?.lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </section>
  )
}
