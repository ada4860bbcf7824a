'use client'
import { useEffect, useRef, useState } from 'react'
import { besideText, OptionBeside } from './option-beside'
import type { Option } from './option-groups'
import { type Replay, type Settings, useReplay } from './option-replay'
import { OptionSearch } from './option-search'
import { settingText, settingWords } from './option-setting'
import { OptionSettingField } from './option-setting-field'

const WAITING: Readonly<Record<NonNullable<Replay['pending']>, string>> = {
  preparing: 'The log is being made ready for other settings …',
  updating: 'The log’s figures are being brought up to date; then settings can be moved …',
  replaying: 'Replaying …',
}

/** An option's settings: as replayed, and, once the log is ready for it, to be moved with their effect at once. */
export function OptionSettings({
  option,
  logId,
  currency,
}: {
  option: Option
  logId: string
  currency: string
}) {
  const place = useRef<HTMLDivElement>(null)
  const [given, setGiven] = useState<Settings>({})
  /** How often all was put back: entries begin anew, what was wrong in them gone too. */
  const [resets, setResets] = useState(0)
  const { live, unmoved, pending, failure, ask } = useReplay(logId, option.id)
  const isMovable = option.judged && Object.values(option.settings).some((value) => typeof value !== 'string')
  useEffect(() => {
    const opener = place.current?.closest('details')
    if (!opener || !isMovable) return
    // The server takes the log up when an option is first opened, so that nobody waits at the first move.
    const open = () => {
      if (!opener.open) return
      opener.removeEventListener('toggle', open)
      ask({})
    }
    opener.addEventListener('toggle', open)
    open()
    return () => opener.removeEventListener('toggle', open)
  }, [ask, isMovable])
  const move = (settings: Settings) => {
    setGiven(settings)
    ask(settings)
  }
  const ranges = live?.ranges ?? {}
  const isMoved = Object.keys(given).length > 0
  const shown = isMoved && !failure ? (live?.option ?? null) : null
  const fixed = Object.entries(option.settings).filter(([name, value]) => value !== null && !ranges[name])
  const movable = Object.keys(ranges)
  const nowOf = (name: string) => {
    const value = given[name] ?? live?.option.settings[name]
    return typeof value === 'number' ? value : null
  }
  const foundOf = (name: string) => {
    const value = option.settings[name]
    return option.feasible && typeof value === 'number' ? value : null
  }
  return (
    <div ref={place} className="settings" aria-busy={pending !== null}>
      {fixed.length || movable.length ? <h3>Settings replayed</h3> : null}
      {fixed.length ? (
        <dl className="pairs">
          {fixed.map(([name, value]) => (
            <div key={name} style={{ display: 'contents' }}>
              <dt>{settingWords(name).name}</dt>
              <dd>{settingText(name, value)}</dd>
            </div>
          ))}
        </dl>
      ) : null}
      {movable.map((name) => (
        <OptionSettingField
          key={`${name} ${resets}`}
          setting={name}
          range={ranges[name]}
          value={nowOf(name)}
          found={foundOf(name)}
          isSearched={option.searched.some(({ setting }) => setting === name)}
          onMove={(value) => move({ ...given, [name]: value })}
        />
      ))}
      {movable.length ? (
        <p className="actions">
          <button
            type="button"
            onClick={() => {
              setResets(resets + 1)
              move({})
            }}
          >
            Back to the best found
          </button>
          <span className="small soft">
            Move a setting and the log is replayed with it; those not moved are chosen anew. Nothing is
            stored.
          </span>
        </p>
      ) : null}
      <p role="status" className={isMoved ? undefined : 'soft small'}>
        {pending
          ? WAITING[pending]
          : failure
            ? null
            : shown
              ? besideText(shown, unmoved?.option ?? option)
              : null}
      </p>
      {failure ? <p className="error">{failure}</p> : null}
      {shown ? (
        <>
          <OptionBeside moved={shown} found={option} currency={currency} />
          <Further moved={shown} found={option} />
        </>
      ) : null}
      <OptionSearch found={option} moved={shown} given={Object.keys(given)} />
    </div>
  )
}

/** Cautions that the moved settings bring with them, beside those that hold anyway. */
function Further({ moved, found }: { moved: Option; found: Option }) {
  const known = new Set(found.cautions.map(({ message }) => message))
  const further = moved.cautions.filter(({ message }) => !known.has(message))
  const reasons = moved.savedShare ? moved.reasons : []
  if (!further.length && !reasons.length)
    return <p className="small soft">The cautions below hold as well.</p>
  return (
    <div className="note warn">
      <h4>With these settings</h4>
      <ul>
        {[...reasons, ...further].map(({ code, message }) => (
          <li key={code}>{message}</li>
        ))}
      </ul>
      <p>The cautions below hold as well.</p>
    </div>
  )
}
