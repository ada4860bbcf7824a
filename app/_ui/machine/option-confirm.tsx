import Link from 'next/link'
import type { Option } from './option-groups'

/** What a person has to confirm before a pressure is lowered; nothing for options that lower none. */
export function OptionConfirm({ option, machineId }: { option: Option; machineId: string }) {
  if (!option.needsConfirmation) return null
  return (
    <div className="note warn">
      <h3>To confirm before any pressure is lowered</h3>
      <ul>
        {option.toConfirm.map(({ code, message }) => (
          <li key={code}>{message}</li>
        ))}
      </ul>
      <p>
        One log does not show every load. Whoever knows the machine answers, and the answer is kept in{' '}
        <Link href={`/machines/${machineId}/setup`}>the machine’s set-up</Link>; a confirmed load above the
        logged ones raises the least setting that is proposed.
      </p>
    </div>
  )
}
