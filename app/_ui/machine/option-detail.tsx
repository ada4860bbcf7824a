import { Scroll } from '@/app/_ui/scroll'
import type { Result } from '@/lib/contract/result'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { NO_DATA, number, percent } from '../format'
import { OPTION_WORDS, SETTING_NAMES } from '../labels'

type Option = Result['options'][number]
type Site = Result['site']

/** An opened option: settings, every estimate with unit, reasons and cautions. */
export function OptionDetail({ option, site }: { option: Option; site: Site }) {
  const { currency } = site
  const rows = [
    { name: 'Share of electric input saved', unit: '%', value: option.savedShare, scale: 100 },
    { name: 'Saved in this log', unit: 'kWh', value: option.savedKWhInLog },
    { name: 'Saved in a year', unit: 'kWh/yr', value: option.savedKWhPerYear },
    { name: 'Energy cost saved', unit: `${currency}/yr`, value: option.savedCostPerYear },
    { name: 'CO₂ avoided', unit: 'kg/yr', value: option.savedKgCO2PerYear },
    { name: 'Less heat into the oil', unit: 'kW', value: option.lessHeatKW },
    {
      name: option.investmentIsPlaceholder ? 'Investment (placeholder, no quote entered)' : 'Investment',
      unit: currency,
      value: option.investment,
    },
    { name: 'Net present value', unit: currency, value: option.netPresentValue },
    { name: 'Simple payback', unit: 'years', value: option.paybackYears },
  ]
  const settings = Object.entries(option.settings)
  const isEstimated = rows.some((row) => row.value !== null)
  return (
    <div className="body">
      <p>{OPTION_WORDS[option.id].whatItIs}</p>
      <Reasons title={option.feasible ? 'Why it fits' : 'Why not'} notes={option.reasons} />
      {settings.length ? (
        <div>
          <h3>Settings replayed</h3>
          <dl className="pairs">
            {settings.map(([key, value]) => {
              const [name, unit] = SETTING_NAMES[key] ?? [key, '']
              const text =
                value === null ? NO_DATA : `${typeof value === 'number' ? number(value) : value} ${unit}`
              return (
                <div key={key} style={{ display: 'contents' }}>
                  <dt>{name}</dt>
                  <dd>{text}</dd>
                </div>
              )
            })}
          </dl>
        </div>
      ) : null}
      {isEstimated ? (
        <>
          <Scroll label="Estimates of this option">
            <table style={{ maxWidth: '44rem' }}>
              <caption className="sr">Estimates of this option</caption>
              <thead>
                <tr>
                  <th scope="col">Figure</th>
                  <th scope="col">Unit</th>
                  <th scope="col" className="num">
                    Value, ± 95 %
                  </th>
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.name}>
                    <th scope="row">{row.name}</th>
                    <td>{row.unit}</td>
                    <EstimateCell estimate={row.value} scale={row.scale} />
                  </tr>
                ))}
                <tr>
                  <th scope="row">Internal rate of return</th>
                  <td>%/yr</td>
                  <td className="num">{percent(option.internalRateOfReturn)}</td>
                </tr>
                <tr>
                  <th scope="row">Chance of payback within {number(site.wantedPaybackYears)} years</th>
                  <td>%</td>
                  <td className="num">{percent(option.paybackProbability)}</td>
                </tr>
                <tr>
                  <th scope="row">Change of cycle time</th>
                  <td>%</td>
                  <td className="num">{percent(option.cycleTimeChangeShare)}</td>
                </tr>
              </tbody>
            </table>
          </Scroll>
          <BasisLegend />
          <details className="twin">
            <summary>How these are reached</summary>
            <div className="explain">
              <p>
                Flow and pressure asked for by the load are fixed, sample by sample; the supply is replaced;
                the same motor and pump models give the new electric input. Saving = model before − model
                after. A year = the log scaled to {number(site.plannedHoursPerYear)} planned hours; cost at{' '}
                {site.tariff?.bands.length
                  ? 'the site’s time-of-use bands'
                  : `${number(site.energyPricePerKWh)} ${currency}/kWh`}
                ; CO₂ at {number(site.emissionKgPerKWh)} kg/kWh; net present value over{' '}
                {number(site.lifetimeYears)} years at {percent(site.discountRate)}. Payback = investment ÷
                yearly cost saved.
              </p>
            </div>
          </details>
        </>
      ) : (
        <p className="nodata">No saving was computed for this option on this log.</p>
      )}
      {option.cautions.length ? (
        <div className="note warn">
          <Reasons title="Cautions" notes={option.cautions} />
        </div>
      ) : null}
    </div>
  )
}

function Reasons({ title, notes }: { title: string; notes: Option['reasons'] }) {
  if (!notes.length) return null
  return (
    <div>
      <h3>{title}</h3>
      <ul>
        {notes.map((note) => (
          <li key={`${note.code}-${note.message}`}>{note.message}</li>
        ))}
      </ul>
    </div>
  )
}
