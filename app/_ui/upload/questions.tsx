'use client'
import type { Inspection, Question } from '@/app/_server/inspection-shapes'
import { dateOnly, dateTime, duration } from '../format'
import type { FileAnswers, LayoutDraft, OpenQuestion } from './answers'
import { Choice, type ChoiceOption } from './choice'
import { clockZones } from './clock-zones'
import { StartQuestion } from './start-question'

const LIKELIER = '(likelier, going by the rest of the file)'
const MARK_NAMES: Readonly<Record<string, string>> = { '.': 'point', ',': 'comma' }

const noteOf = (likelier: boolean) => (likelier ? LIKELIER : undefined)
const day = (iso: string | null) => (iso ? dateOnly(`${iso}T12:00:00Z`, 'UTC') : 'no such day')
/** A number as it would be said, without a mark that could be read two ways. */
const said = (reading: string) => (reading.includes('.') ? String(Number(reading)) : reading)

function dayOptions({ choices }: Question): ChoiceOption[] {
  return choices.map(({ value, reading, likelier }) => ({
    value,
    label: `${day(reading)}: the ${value === 'day-first' ? 'day' : 'month'} stands first`,
    note: noteOf(likelier),
  }))
}

function markOptions({ choices, example }: Question): ChoiceOption[] {
  return choices.map(({ value, reading, likelier }) => {
    const isDecimal = example?.includes(value) ?? false
    const name = MARK_NAMES[isDecimal || !example ? value : (example.match(/[.,]/)?.[0] ?? value)] ?? value
    const role = isDecimal ? `the ${name} is the decimal mark` : `the ${name} groups thousands`
    return { value, label: reading ? `${said(reading)}: ${role}` : role, note: noteOf(likelier) }
  })
}

function unitOptions({ choices }: Question): ChoiceOption[] {
  return choices.map(({ value, reading, likelier }) => ({
    value,
    label: `${duration(Number(reading))}: it counts ${value === 'ms' ? 'milliseconds' : 'seconds'}`,
    note: noteOf(likelier),
  }))
}

function clockOptions({ choices }: Question): ChoiceOption[] {
  return choices.map(({ value, likelier }) => ({
    value,
    label:
      value === '0'
        ? 'As stamped: both clocks are right'
        : `Shifted by ${value} s: its clock ${Number(value) > 0 ? 'is behind' : 'is ahead'}`,
    note: likelier ? '(likelier: there the changes of both files go together)' : undefined,
  }))
}

/** What a file leaves open, each with its readings; what serves all files of its layout is asked once. */
export function Questions({
  inspection,
  draft,
  answers,
  open,
  lastModifiedMs,
  siteZone,
  asks,
  wasAsked,
  onSay,
  onAnswer,
}: {
  inspection: Inspection
  draft: LayoutDraft | undefined
  answers: FileAnswers
  open: readonly OpenQuestion[]
  /** When the file was last changed, or came. */
  lastModifiedMs: number
  siteZone: string
  /** Whether this file asks it, and no other of the same layout for both. */
  asks: (id: Question['id']) => boolean
  wasAsked: boolean
  onSay: (part: Partial<LayoutDraft>) => void
  onAnswer: (part: FileAnswers) => void
}) {
  const isMissing = (id: OpenQuestion) => wasAsked && open.includes(id)
  const year = new Date(inspection.startedAt ?? lastModifiedMs).getUTCFullYear()
  const ask = (question: Question) => {
    const { id, example, column } = question
    const shared = { isMissing: isMissing(id) }
    switch (id) {
      case 'dayOrder':
        return (
          <Choice
            key={id}
            {...shared}
            question={
              example
                ? `Which day is ${example}?`
                : `Which day does the date in line ${question.line ?? 1} mean?`
            }
            help="No date in the file has a number above 12, and both readings run on."
            options={dayOptions(question)}
            chosen={draft?.dayOrder}
            onChoose={(dayOrder) => onSay({ dayOrder: dayOrder as LayoutDraft['dayOrder'] })}
          />
        )
      case 'decimalMark':
        return (
          <Choice
            key={id}
            {...shared}
            question={example ? `Which number is ${example} in “${column}”?` : 'Which is the decimal mark?'}
            help="Every number with a mark in the file reads both ways; the two differ a thousandfold."
            options={markOptions(question)}
            chosen={draft?.decimalMark}
            onChoose={(decimalMark) => onSay({ decimalMark: decimalMark as LayoutDraft['decimalMark'] })}
          />
        )
      case 'timeUnit':
        return (
          <Choice
            key={id}
            {...shared}
            question={`How long is the recording? “${column ?? 'Time'}” names no unit.`}
            options={unitOptions(question)}
            chosen={draft?.timeUnit}
            onChoose={(timeUnit) => onSay({ timeUnit: timeUnit as LayoutDraft['timeUnit'] })}
          />
        )
      case 'timeZone':
        return (
          <Choice
            key={id}
            {...shared}
            question="Which clock does the logger keep?"
            help={
              example === 'ahead'
                ? `On the site’s clock the recording would end ${dateTime(inspection.endedAt, siteZone)}, which is still to come.`
                : 'The recording falls into the hour that comes twice when the clock is put back.'
            }
            options={clockZones(siteZone, year).map(([value, label]) => ({ value, label }))}
            chosen={draft?.timeZone}
            onChoose={(timeZone) => onSay({ timeZone })}
          />
        )
      case 'startedAt':
        return (
          <StartQuestion
            key={id}
            onlyDay={question.choices[0]?.value === 'time-of-day'}
            firstTime={example}
            durationS={inspection.durationS}
            lastModified={lastModifiedMs}
            now={Date.now()}
            startedAt={answers.startedAt}
            isMissing={shared.isMissing}
            onAnswer={(startedAt) => onAnswer({ startedAt })}
          />
        )
      case 'clockShift': {
        const name = column ?? 'the second file'
        const chosen = answers.clockShifts?.[name]
        return (
          <Choice
            key={`${id} ${name}`}
            isMissing={shared.isMissing && chosen === undefined}
            question={`Is the clock of ${name} right?`}
            help={example ?? undefined}
            options={clockOptions(question)}
            chosen={chosen === undefined ? undefined : String(chosen)}
            onChoose={(value) => onAnswer({ clockShifts: { ...answers.clockShifts, [name]: Number(value) } })}
          />
        )
      }
      // The columns are asked for where they are shown.
      case 'columns':
        return null
    }
  }
  const own = inspection.questions.filter(({ id }) => asks(id))
  return (
    <>
      {own.map(ask)}
      {inspection.overlaps.length && !inspection.sameAs ? (
        <Choice
          question={
            inspection.overlaps.length === 1
              ? `It shares time with ${inspection.overlaps[0].fileName}, which is stored already. Which counts?`
              : `It shares time with ${inspection.overlaps.length} stored logs. Which count?`
          }
          help="Hours that two logs cover count twice in the machine’s month."
          options={[
            ...inspection.overlaps.map(({ id, fileName, startedAt, endedAt }) => ({
              value: id,
              label: `Replace ${fileName} (${dateTime(startedAt, siteZone)} to ${dateTime(endedAt, siteZone)})`,
              note: 'it is deleted once this one is stored',
            })),
            { value: '', label: 'Keep both', note: 'for loggers with different sensors' },
          ]}
          chosen={answers.replaces === undefined ? undefined : (answers.replaces ?? '')}
          isMissing={isMissing('overlap')}
          onChoose={(id) => onAnswer({ replaces: id || null })}
        />
      ) : null}
    </>
  )
}
