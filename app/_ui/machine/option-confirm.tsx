import Link from 'next/link'
import type { Machine } from '@/lib/contract/machine'
import type { Result } from '@/lib/contract/result'
import { lowersPressure } from '@/lib/options/confirm'
import { dateOnly, entered } from '../format'
import { CONFIRMED_ANCHOR, HANGS_WORDS } from '../setup/confirmed-words'
import type { Option } from './option-groups'

type Confirmed = NonNullable<Machine['confirmed']>

/** What a person has to confirm before a pressure is lowered, and who has; nothing for options that lower none. */
export function OptionConfirm({
  option,
  phases,
  machineId,
  confirmed,
}: {
  option: Option
  phases: Result['phases']
  machineId: string
  confirmed: Confirmed | null
}) {
  if (!lowersPressure(option.id, phases)) return null
  const entry = `/machines/${machineId}/setup#${CONFIRMED_ANCHOR}`
  if (!confirmed) {
    return (
      <div className="note warn">
        <h3>To confirm before any pressure is lowered</h3>
        <ToConfirm option={option} />
        <p>
          One log does not show every load. Whoever knows the machine answers{' '}
          <Link href={entry}>in the machine’s set-up</Link>; a confirmed load above the logged ones raises the
          least setting that is proposed.
        </p>
      </div>
    )
  }
  return (
    <div className={option.toConfirm.length ? 'note warn' : 'note'}>
      <h3>Confirmed by {confirmed.by}</h3>
      <p>
        On {dateOnly(`${confirmed.on}T00:00:00Z`, 'UTC')}: no load asks for more than{' '}
        {entered(confirmed.highestLoadBar)} bar;{' '}
        {confirmed.hangsOnPressure.length
          ? `on this pressure hang ${confirmed.hangsOnPressure.map((thing) => HANGS_WORDS[thing].toLowerCase()).join(', ')}`
          : 'nothing else hangs on this pressure'}
        . {confirmed.note ? `“${confirmed.note}” ` : null}
        <Link href={entry}>Change it in the set-up</Link>
      </p>
      {option.toConfirm.length ? (
        <>
          <h4>Still to confirm</h4>
          <ToConfirm option={option} />
        </>
      ) : null}
    </div>
  )
}

function ToConfirm({ option }: { option: Option }) {
  return (
    <ul>
      {option.toConfirm.map(({ code, message }) => (
        <li key={code}>{message}</li>
      ))}
    </ul>
  )
}
