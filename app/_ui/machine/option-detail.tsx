import { Scroll } from '@/app/_ui/scroll'
import { QUANTITIES } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { NO_DATA, number, percent } from '../format'
import { OPTION_WORDS, SETTING_NAMES } from '../labels'
import { sensorsOf } from './explanations'
import { optionFigures } from './option-figures'
import type { Option } from './option-groups'

/** An opened option: settings, every estimate with unit and formula, reasons and cautions. */
export function OptionDetail({ option, result }: { option: Option; result: Result }) {
  return (
    <div className="body">
      <p>{OPTION_WORDS[option.id].whatItIs}</p>
      <Reasons title={option.feasible ? 'To know' : 'Why not'} notes={option.reasons} />
      <Settings settings={option.settings} />
      {option.savedShare ? (
        <OptionFigures option={option} result={result} />
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

function OptionFigures({ option, result }: { option: Option; result: Result }) {
  return (
    <>
      <Scroll label="Estimates of this option">
        <table className="reading">
          <caption className="sr">Estimates of this option</caption>
          <thead>
            <tr>
              <th scope="col">Figure, and how it is reached</th>
              <th scope="col" className="num">
                Value, ± 95 %
              </th>
              <th scope="col">Unit</th>
            </tr>
          </thead>
          <tbody>
            {optionFigures(option, result).map((figure) => (
              <tr key={figure.name}>
                <th scope="row">
                  {figure.name}
                  <span className="how">{figure.formula}</span>
                </th>
                {figure.text === undefined ? (
                  <EstimateCell estimate={figure.estimate} scale={figure.scale} />
                ) : (
                  <td className="num">{figure.text}</td>
                )}
                <td>{figure.unit}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <BasisLegend />
      <details className="twin">
        <summary>What the replay rests on</summary>
        <div className="explain">
          <p>
            Flow and pressure asked for by the load are fixed, sample by sample; the supply is replaced; the
            same motor and pump models give the new electric input, so that what is wrong with a model mostly
            cancels in the difference. Sensors:
          </p>
          <ul>
            {sensorsOf(result, QUANTITIES).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </div>
      </details>
    </>
  )
}

function Settings({ settings }: { settings: Option['settings'] }) {
  const known = Object.entries(settings).filter(([, value]) => value !== null)
  if (!known.length) return null
  return (
    <div>
      <h3>Settings replayed</h3>
      <dl className="pairs">
        {known.map(([key, value]) => {
          const [name, unit] = SETTING_NAMES[key] ?? [key, '']
          return (
            <div key={key} style={{ display: 'contents' }}>
              <dt>{name}</dt>
              <dd>{settingText(value, unit)}</dd>
            </div>
          )
        })}
      </dl>
    </div>
  )
}

function settingText(value: Option['settings'][string], unit: string): string {
  if (value === null) return NO_DATA
  if (typeof value === 'string') return value
  return unit === '%' ? percent(value) : `${number(value)} ${unit}`
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
