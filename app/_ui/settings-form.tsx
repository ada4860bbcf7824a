'use client'
import { type FormEvent, type ReactNode, useEffect, useRef, useState } from 'react'
import { useUnsaved } from './use-unsaved'

const textOf = (lines: Readonly<Record<string, string>>) =>
  Object.entries(lines).map(([path, text]) => `${path || 'the whole'}: ${text}`)

/** What is wrong with imported settings, a line for each place; null where nothing is. */
export const importErrors = (errors: Readonly<Record<string, string>>): string | null =>
  textOf(errors).join('\n') || null

/**
 * Settings that are entered, checked and saved as a whole. Errors show from the first try on, the first wrong entry is
 * gone to, and whoever leaves with unsaved entries is asked.
 */
export function SettingsForm({
  entries,
  errors,
  verb,
  aside,
  save,
  children,
}: {
  /** All that can be entered, for telling what is not saved yet. */
  entries: unknown
  /** By place, whether shown yet or not. */
  errors: Readonly<Record<string, string>>
  verb: string
  aside?: string
  /** Saves, and says what to say then; throws an error with what is wrong in words. */
  save: () => Promise<ReactNode>
  children: (errors: Readonly<Record<string, string>>) => ReactNode
}) {
  const form = useRef<HTMLFormElement>(null)
  const text = JSON.stringify(entries)
  const [savedText, setSavedText] = useState(text)
  const [tries, setTries] = useState(0)
  const [isListed, setListed] = useState(false)
  const [isBusy, setBusy] = useState(false)
  const [said, setSaid] = useState<{ what: ReactNode; bad: boolean; of: string } | null>(null)
  const isDirty = text !== savedText
  useUnsaved(isDirty)
  const wrong = Object.keys(errors).length
  useEffect(() => {
    if (tries === 0) return
    const first = form.current?.querySelector<HTMLElement>('[aria-invalid="true"]:not(fieldset)')
    first?.focus()
    // What no entry shows is said below.
    setListed(!first)
  }, [tries])

  const submit = async (event: FormEvent) => {
    event.preventDefault()
    // A day that is half typed is empty to the page; the browser alone knows of it.
    const half = form.current?.querySelector<HTMLInputElement>('input[type="date"]:invalid')
    if (half) {
      half.focus()
      return setSaid({ what: 'One date is not complete; nothing was saved.', bad: true, of: text })
    }
    setTries(tries + 1)
    if (wrong > 0) return
    setBusy(true)
    try {
      setSaid({ what: await save(), bad: false, of: text })
      setSavedText(text)
      setTries(0)
    } catch (error) {
      setSaid({ what: error instanceof Error ? error.message : String(error), bad: true, of: text })
    } finally {
      setBusy(false)
    }
  }

  return (
    <form ref={form} className="sheet" noValidate onSubmit={(event) => void submit(event)}>
      {children(tries > 0 ? errors : {})}
      <div role="status">
        {tries > 0 && wrong > 0 ? (
          <>
            <p className="error">
              {wrong === 1 ? 'One entry needs' : `${wrong} entries need`} attention; nothing was saved.
            </p>
            {isListed ? (
              <ul className="error">
                {textOf(errors).map((line) => (
                  <li key={line}>{line}</li>
                ))}
              </ul>
            ) : null}
          </>
        ) : null}
        {said && said.of === text ? <div className={said.bad ? 'error' : undefined}>{said.what}</div> : null}
      </div>
      <div className="actions">
        <button type="submit" className="main" disabled={isBusy}>
          {isBusy ? 'Saving …' : verb}
        </button>
        <span className="soft">
          {isDirty ? 'Not saved yet.' : ''} {aside}
        </span>
      </div>
    </form>
  )
}
