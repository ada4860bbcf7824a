'use client'
import { useMemo, useState } from 'react'
import type { NamedMachine } from '@/lib/economics/planned-time'
import { CheckList } from '../check-list'
import { count } from '../format'
import { FIRST_ROWS, namesInShort } from '../long-lists'

export interface MachineOfLine extends NamedMachine {
  readonly line: string | null
}

const LEGEND = 'Machines (none ticked: all that no other calendar names)'

/** The machines a calendar holds for; of many the first that a search finds have boxes, and all that it finds are ticked at once. */
export function MachineChecks({
  machines,
  chosen: named,
  onChange,
}: {
  machines: readonly MachineOfLine[]
  /** Ids or, from a file, names. */
  chosen: readonly string[]
  onChange: (chosen: readonly string[]) => void
}) {
  const [search, setSearch] = useState('')
  const [isTickedAlone, setTickedAlone] = useState(false)
  const choices = useMemo(() => choicesOf(machines, named), [machines, named])
  const chosen = useMemo(() => {
    const ids = new Map(machines.map(({ id, name }) => [name, id]))
    return named.map((one) => ids.get(one) ?? one)
  }, [machines, named])
  if (choices.length <= FIRST_ROWS)
    return (
      <CheckList<string>
        legend={LEGEND}
        isLegendShown
        choices={choices.map(({ id, name }) => [id, name] as const)}
        chosen={chosen}
        onChange={onChange}
      />
    )
  const ticked = new Set(chosen)
  const sought = search.trim().toLowerCase()
  const found = choices.filter(
    ({ id, name, line }) =>
      (!isTickedAlone || ticked.has(id)) && `${name}\n${line ?? ''}`.toLowerCase().includes(sought),
  )
  const boxes = found.slice(0, FIRST_ROWS)
  // What has no box here keeps its tick.
  const put = (ids: readonly string[], of: readonly MachineOfLine[]) => {
    const asked = new Set(of.map(({ id }) => id))
    onChange([...chosen.filter((id) => !asked.has(id)), ...ids])
  }
  const foundTicked = found.filter(({ id }) => ticked.has(id)).length
  return (
    <fieldset className="nested">
      <legend>{LEGEND}</legend>
      <p className="soft">
        {ticked.size === 0
          ? `None of ${count(choices.length)} is ticked.`
          : `${count(ticked.size)} of ${count(choices.length)}: ${namesInShort(choices.filter(({ id }) => ticked.has(id)).map(({ name }) => name))}.`}
      </p>
      <div className="tools">
        <label>
          Machine or line{' '}
          <input type="search" value={search} onChange={(event) => setSearch(event.target.value)} />
        </label>
        <label>
          <input
            type="checkbox"
            checked={isTickedAlone}
            onChange={(event) => setTickedAlone(event.target.checked)}
          />{' '}
          ticked ones alone
        </label>
        <button
          type="button"
          disabled={foundTicked === found.length}
          onClick={() =>
            put(
              found.map(({ id }) => id),
              found,
            )
          }
        >
          Tick all {count(found.length)} found
        </button>
        <button type="button" disabled={foundTicked === 0} onClick={() => put([], found)}>
          Untick all {count(found.length)} found
        </button>
      </div>
      <CheckList<string>
        legend="Machines found"
        choices={boxes.map(({ id, name }) => [id, name] as const)}
        chosen={boxes.filter(({ id }) => ticked.has(id)).map(({ id }) => id)}
        onChange={(ids) => put(ids, boxes)}
      />
      <p className="soft small" role="status">
        {found.length > boxes.length
          ? `The first ${count(boxes.length)} of ${count(found.length)}: search for the others by name or line.`
          : found.length === 0
            ? 'No machine is found by that.'
            : null}
      </p>
    </fieldset>
  )
}

/** Every machine of the site, and what the calendar names beside them. */
function choicesOf(machines: readonly MachineOfLine[], named: readonly string[]): MachineOfLine[] {
  const known = new Set(machines.flatMap(({ id, name }) => [id, name]))
  const strange = named.filter((one) => !known.has(one))
  return [
    ...machines,
    ...strange.map((one) => ({ id: one, name: `${one} (no machine of this name)`, line: null })),
  ]
}
