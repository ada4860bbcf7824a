'use client'
import { type CSSProperties, useId, useState } from 'react'
import { entryText, type Range, settingText, settingWords, slidTo, typedSetting } from './option-setting'

/** A setting to move: a slider and a number, with its range and where the best was found. */
export function OptionSettingField({
  setting,
  range,
  value,
  found,
  isSearched,
  onMove,
}: {
  setting: string
  range: Range
  /** Null where no value of it can be done. */
  value: number | null
  found: number | null
  /** Whether the best was looked for, or is what usually is set. */
  isSearched: boolean
  onMove: (value: number) => void
}) {
  const id = useId()
  const [typed, setTyped] = useState<string | null>(null)
  const [error, setError] = useState<string | null>(null)
  const { name, unit } = settingWords(setting)
  const { low, high } = range
  const at = found === null ? null : (found - low) / (high - low)
  const type = (text: string) => {
    setTyped(text)
    const read = typedSetting(setting, text, range)
    setError('error' in read ? read.error : null)
    if ('value' in read) onMove(read.value)
  }
  const slide = (to: number) => {
    setTyped(null)
    setError(null)
    onMove(slidTo(to, range))
  }
  return (
    <div className="setting" data-setting={setting}>
      <label htmlFor={id}>{name}</label>
      <div className="slider">
        <input
          type="range"
          min={low}
          max={high}
          step="any"
          aria-label={`${name}, slider`}
          aria-valuetext={value === null ? 'not set' : settingText(setting, value)}
          aria-describedby={`${id}-range`}
          value={value ?? low}
          onChange={(event) => slide(Number(event.target.value))}
        />
        {at === null || at < 0 || at > 1 ? null : (
          <span className="best" style={{ '--at': at } as CSSProperties} aria-hidden="true" />
        )}
      </div>
      <div className="entry">
        <input
          id={id}
          inputMode="decimal"
          autoComplete="off"
          size={7}
          aria-invalid={error ? true : undefined}
          aria-describedby={error ? `${id}-error ${id}-range` : `${id}-range`}
          value={typed ?? (value === null ? '' : entryText(setting, value))}
          onChange={(event) => type(event.target.value)}
          onBlur={() => {
            if (!error) setTyped(null)
          }}
        />
        <span className="after">{unit}</span>
      </div>
      <p className="small soft" id={`${id}-range`}>
        {entryText(setting, low)} to {entryText(setting, high)} {unit};{' '}
        {found === null
          ? 'no best was found'
          : `▲ ${isSearched ? 'found best' : 'replayed with'} ${settingText(setting, found)}`}
      </p>
      {error ? (
        <p className="error" id={`${id}-error`}>
          {error}
        </p>
      ) : null}
    </div>
  )
}
