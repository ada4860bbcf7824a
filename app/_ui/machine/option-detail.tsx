import type { Machine } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { OPTION_WORDS } from '../labels'
import { DecideForm } from '../measures/decide-form'
import { OptionConfirm } from './option-confirm'
import { optionFigures } from './option-figures'
import type { Option } from './option-groups'
import { OptionSettings } from './option-settings'
import { OptionTornado } from './option-tornado'

/** Whose option it is, of which log, and what a person confirmed of that machine. */
export interface OptionPlace {
  readonly machineId: string
  readonly logId: string
  /** Changes whenever the result is made again. */
  readonly revision: string
  readonly confirmed: NonNullable<Machine['confirmed']> | null
}

/** An opened option: settings, every estimate with unit and how it was reached, reasons and cautions. */
export function OptionDetail({
  option,
  result,
  place,
}: {
  option: Option
  result: Result
  place: OptionPlace
}) {
  const { machineId, logId, revision, confirmed } = place
  return (
    <div className="body">
      <p>{OPTION_WORDS[option.id].whatItIs}</p>
      <Reasons title={option.feasible ? 'To know' : 'Why not'} notes={option.reasons} />
      <OptionSettings key={revision} option={option} logId={logId} currency={result.site.currency} />
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
      {option.feasible ? (
        <OptionConfirm option={option} phases={result.phases} machineId={machineId} confirmed={confirmed} />
      ) : null}
      {option.cautions.length ? (
        <div className="note warn">
          <Reasons title="Cautions" notes={option.cautions} />
        </div>
      ) : null}
      {option.savedKWhPerYear ? (
        <DecideForm machineId={machineId} logId={logId} optionId={option.id} />
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
