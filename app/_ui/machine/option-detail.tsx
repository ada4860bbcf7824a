import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { NO_DATA, number, percent } from '../format'
import { OPTION_WORDS, SETTING_NAMES } from '../labels'
import { OptionConfirm } from './option-confirm'
import { optionFigures } from './option-figures'
import type { Option } from './option-groups'
import { OptionTornado } from './option-tornado'

/** An opened option: settings, every estimate with unit and how it was reached, reasons and cautions. */
export function OptionDetail({
  option,
  result,
  machineId,
  logId,
}: {
  option: Option
  result: Result
  machineId: string
  logId: string
}) {
  return (
    <div className="body">
      <p>{OPTION_WORDS[option.id].whatItIs}</p>
      <Reasons title={option.feasible ? 'To know' : 'Why not'} notes={option.reasons} />
      <Settings settings={option.settings} />
      {option.savedShare ? (
        <>
          <p className="soft">
            What the load asked for stays, sample by sample; the supply is replaced and the same models give
            the new input. Each figure opens to how it was reached.
          </p>
          <HowList logId={logId} label="Estimates of this option" rows={optionFigures(option, result)} />
          <OptionTornado option={option} result={result} logId={logId} />
        </>
      ) : (
        <p className="nodata">No saving was computed for this option on this log.</p>
      )}
      {option.feasible ? <OptionConfirm option={option} machineId={machineId} /> : null}
      {option.cautions.length ? (
        <div className="note warn">
          <Reasons title="Cautions" notes={option.cautions} />
        </div>
      ) : null}
    </div>
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
