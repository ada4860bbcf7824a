'use client'
import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useMemo, useState } from 'react'
import type { SeenLevels } from '@/app/_server/views/setup-view'
import { LEVEL_NAMES } from '@/lib/contract/levels'
import type { Machine } from '@/lib/contract/machine'
import { send } from '../api'
import { Field } from '../field'
import { JsonPanel } from '../json-panel'
import { foundHint } from '../level-text'
import { importErrors, SettingsForm } from '../settings-form'
import { ChannelRows } from './channel-rows'
import { CONFIRMED_GROUP } from './confirmed-fields'
import { checkMachine, draftOf, jsonOf, type MachineDraft } from './draft'
import { MACHINE_GROUPS } from './fields'
import { FurtherRows } from './further-rows'
import { HangsChoice } from './hangs-choice'

export interface MachineFormProps {
  /** Null for a new machine. */
  readonly id: string | null
  readonly machine: Machine | null
  readonly line: string
  readonly trade: string
  /** What a log of it shows of the levels; null where there is none. */
  readonly seen: SeenLevels | null
}

/** Set-up of one machine as a form, and the same as JSON. */
export function MachineForm({ id, machine, line, trade, seen }: MachineFormProps) {
  const router = useRouter()
  const [draft, setDraft] = useState<MachineDraft>(() => draftOf(machine))
  const [place, setPlace] = useState({ line, trade })
  const hints = useMemo(() => hintsOf(seen), [seen])
  const json = useMemo(() => jsonOf(draft), [draft])
  const checked = useMemo(() => checkMachine(json), [json])
  const change = (part: Partial<MachineDraft>) => setDraft((now) => ({ ...now, ...part }))
  const setText = (path: string, value: string) => change({ text: { ...draft.text, [path]: value } })

  const save = async () => {
    const query = new URLSearchParams({ line: place.line, trade: place.trade })
    const path = id ? `/api/machines/${encodeURIComponent(id)}` : '/api/machines'
    const answer = await send(id ? 'PUT' : 'POST', `${path}?${query}`, checked.machine)
    const made = answer && typeof answer === 'object' && 'id' in answer ? String(answer.id) : id
    if (!id && made) router.push(`/upload?machine=${encodeURIComponent(made)}`)
    router.refresh()
    return (
      <p>
        Saved. The machine’s logs are being brought up to date with it:{' '}
        <Link href={`/machines/${made}${seen ? `?log=${seen.logId}` : ''}`}>see the effect</Link>.
      </p>
    )
  }

  return (
    <>
      <SettingsForm
        entries={[json, place]}
        errors={checked.errors}
        verb={id ? 'Save' : 'Create the machine'}
        aside={id ? undefined : 'Next: upload its first log.'}
        save={save}
      >
        {(errors) => (
          <>
            <fieldset style={{ borderTop: 0, paddingTop: 0 }}>
              <legend>Machine</legend>
              <div className="fields">
                <Field
                  label="Name"
                  value={draft.name}
                  error={errors.name}
                  onChange={(name) => change({ name })}
                />
                <Field
                  label="Line or group"
                  optional
                  value={place.line}
                  help="For filtering the comparison."
                  onChange={(value) => setPlace({ ...place, line: value })}
                />
                <Field
                  label="What it does"
                  optional
                  value={place.trade}
                  help="Baler, press, lift table …"
                  onChange={(value) => setPlace({ ...place, trade: value })}
                />
              </div>
            </fieldset>
            {MACHINE_GROUPS.map((group) => (
              <fieldset key={group.title} id={group.id}>
                <legend>{group.title}</legend>
                <p className="soft">{group.about}</p>
                <div className="fields">
                  {group.fields.map((spec) => (
                    <Field
                      key={spec.path}
                      label={spec.label}
                      unit={spec.unit}
                      help={spec.help}
                      hint={hints[spec.path]}
                      optional={spec.optional}
                      choices={spec.choices}
                      numeric={!spec.choices && !spec.isText}
                      value={draft.text[spec.path] ?? ''}
                      error={errors[spec.path]}
                      onChange={(value) => setText(spec.path, value)}
                    />
                  ))}
                </div>
                {group === CONFIRMED_GROUP ? (
                  <HangsChoice hangs={draft.hangs} onChange={(hangs) => change({ hangs })} />
                ) : null}
              </fieldset>
            ))}
            <FurtherRows
              further={draft.further}
              errors={errors}
              onChange={(further) => change({ further })}
            />
            <ChannelRows
              channels={draft.channels}
              errors={errors}
              onChange={(channels) => change({ channels })}
            />
          </>
        )}
      </SettingsForm>
      <JsonPanel
        json={json}
        fileName={`${(draft.name || 'machine').toLowerCase().replaceAll(/[^a-z0-9]+/g, '-')}.json`}
        onApply={(value) => {
          const read = checkMachine(value)
          if (!read.machine) return importErrors(read.errors)
          change(draftOf(read.machine))
          return null
        }}
      />
    </>
  )
}

/** By path in MACHINE.json: what a log shows where nothing is entered. */
function hintsOf(seen: SeenLevels | null): Readonly<Record<string, string>> {
  if (!seen) return {}
  return Object.fromEntries(LEVEL_NAMES.map((name) => [`levels.${name}`, foundHint(name, seen)]))
}
