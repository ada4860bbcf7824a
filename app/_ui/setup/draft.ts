import type { z } from 'zod'
import { type Machine, machineSchema } from '@/lib/contract/machine'
import { MACHINE_GROUPS } from './fields'
import { type FurtherDraft, furtherJson, furtherOf } from './further-draft'
import type { Hangs } from './hangs-choice'
import { numberOf } from './typed-number'

/** A sensor row as typed. */
export interface ChannelDraft {
  readonly key: string
  readonly column: string
  readonly quantity: string
  readonly location: string
  readonly unit: string
  readonly accuracy: 'none' | 'full-scale' | 'reading'
  readonly percent: string
  readonly fullScale: string
  readonly scaleFrom: string
  readonly scaleTo: string
  readonly serialNumber: string
  readonly certificateNumber: string
  readonly certificateDate: string
  readonly zeroReading: string
}

/** The whole form as typed: text by path in MACHINE.json, and the sensor rows. */
export interface MachineDraft {
  readonly name: string
  readonly text: Readonly<Record<string, string>>
  readonly further: FurtherDraft
  readonly channels: readonly ChannelDraft[]
  /** What else hangs on a pressure that is to be lowered. */
  readonly hangs: Hangs
}

const SPECS = MACHINE_GROUPS.flatMap(({ title, fields }) => fields.map((field) => ({ ...field, title })))

const at = (source: unknown, path: string): unknown =>
  path
    .split('.')
    .reduce<unknown>(
      (value, key) =>
        value && typeof value === 'object' ? (value as Record<string, unknown>)[key] : undefined,
      source,
    )

export const EMPTY_CHANNEL: Omit<ChannelDraft, 'key'> = {
  column: '',
  quantity: 'pressure',
  location: 'pump-outlet',
  unit: 'bar',
  accuracy: 'none',
  percent: '',
  fullScale: '',
  scaleFrom: '',
  scaleTo: '',
  serialNumber: '',
  certificateNumber: '',
  certificateDate: '',
  zeroReading: '',
}

/** A machine as form text; without one, an empty form with the first choices taken. */
export function draftOf(machine: Machine | null): MachineDraft {
  const text = Object.fromEntries(
    SPECS.map((spec) => {
      const value = at(machine, spec.path)
      return [spec.path, value === undefined ? (spec.choices?.[0][0] ?? '') : String(value)]
    }),
  )
  if (!machine) text['motor.frequencyHz'] = '50'
  const channels = (machine?.channels ?? []).map((channel, index): ChannelDraft => {
    const { accuracy, scale, evidence } = channel
    const isFullScale = accuracy !== undefined && 'percentOfFullScale' in accuracy
    return {
      key: `${index} ${channel.column}`,
      column: channel.column,
      quantity: channel.quantity,
      location: channel.location ?? '',
      unit: channel.unit ?? '',
      accuracy: !accuracy ? 'none' : isFullScale ? 'full-scale' : 'reading',
      percent: !accuracy ? '' : String(isFullScale ? accuracy.percentOfFullScale : accuracy.percentOfReading),
      fullScale: isFullScale ? String(accuracy.fullScale) : '',
      scaleFrom: scale ? scale.from.join(' ') : '',
      scaleTo: scale ? scale.to.join(' ') : '',
      serialNumber: evidence?.serialNumber ?? '',
      certificateNumber: evidence?.certificateNumber ?? '',
      certificateDate: evidence?.certificateDate ?? '',
      zeroReading: evidence?.zeroReading === undefined ? '' : String(evidence.zeroReading),
    }
  })
  const hangs = machine?.confirmed?.hangsOnPressure ?? []
  return { name: machine?.name ?? '', text, further: furtherOf(machine), channels, hangs }
}

const pair = (text: string) =>
  text
    .trim()
    .split(/[\s;]+/)
    .map(numberOf)

function evidenceOf(draft: ChannelDraft): Record<string, unknown> | null {
  const typed = {
    serialNumber: draft.serialNumber.trim() || undefined,
    certificateNumber: draft.certificateNumber.trim() || undefined,
    certificateDate: draft.certificateDate.trim() || undefined,
    zeroReading: numberOf(draft.zeroReading),
  }
  const given = Object.entries(typed).filter(([, value]) => value !== undefined)
  return given.length > 0 ? Object.fromEntries(given) : null
}

function channelOf(draft: ChannelDraft): unknown {
  const evidence = evidenceOf(draft)
  const accuracy =
    draft.accuracy === 'full-scale'
      ? { percentOfFullScale: numberOf(draft.percent), fullScale: numberOf(draft.fullScale) }
      : draft.accuracy === 'reading'
        ? { percentOfReading: numberOf(draft.percent) }
        : undefined
  const scale =
    draft.scaleFrom.trim() || draft.scaleTo.trim()
      ? { from: pair(draft.scaleFrom), to: pair(draft.scaleTo) }
      : undefined
  return {
    column: draft.column.trim(),
    quantity: draft.quantity,
    ...(draft.location ? { location: draft.location } : {}),
    ...(draft.unit ? { unit: draft.unit } : {}),
    ...(scale ? { scale } : {}),
    ...(accuracy ? { accuracy } : {}),
    ...(evidence ? { evidence } : {}),
  }
}

/** Groups that every machine has. */
const NEEDED_GROUPS = new Set(['motor', 'pump', 'relief'])

/** What the form says, as MACHINE.json, not yet checked. */
export function jsonOf(draft: MachineDraft): unknown {
  const json: Record<string, unknown> = { version: 1, name: draft.name.trim() }
  for (const { path, choices, isText } of SPECS) {
    const text = draft.text[path] ?? ''
    const value = choices || isText ? text.trim() || undefined : numberOf(text)
    const groups = path.split('.')
    const key = groups.pop() ?? path
    let inner = json
    // Motor, pump and relief are there even when empty, for the schema to name what is missing; other groups only where something is typed.
    if (value === undefined && !NEEDED_GROUPS.has(groups.join('.'))) continue
    for (const group of groups) {
      inner[group] ??= {}
      inner = inner[group] as Record<string, unknown>
    }
    if (value !== undefined) inner[key] = value
  }
  // With nothing typed and nothing ticked nobody has confirmed anything.
  if (json.confirmed || draft.hangs.length)
    json.confirmed = { ...(json.confirmed ?? {}), hangsOnPressure: [...draft.hangs] }
  Object.assign(json, furtherJson(draft.further))
  if (draft.channels.length) json.channels = draft.channels.map(channelOf)
  return json
}

export type Checked =
  | { readonly machine: Machine; readonly errors: Readonly<Record<string, string>> }
  | { readonly machine: null; readonly errors: Readonly<Record<string, string>> }

/** Checks against the published shape; errors by path, worded for the person who typed. */
export function checkMachine(json: unknown): Checked {
  const parsed = machineSchema.safeParse(json)
  if (parsed.success) return { machine: parsed.data, errors: {} }
  return { machine: null, errors: errorsOf(parsed.error) }
}

/** The first error of each path, in words. */
export function errorsOf(error: z.ZodError): Record<string, string> {
  const errors: Record<string, string> = {}
  for (const issue of error.issues) {
    const path = issue.path.join('.')
    errors[path] ??= wordsOf(issue)
  }
  return errors
}

/** What the schema says of two entries, with each called what the form calls it. */
function inFormWords(message: string, path: string): string {
  const group = path.slice(0, path.lastIndexOf('.') + 1)
  const words = message.replace(/\b[a-z]+[A-Z]\w*/g, (name) => {
    const named = SPECS.filter((spec) => spec.path === name || spec.path.endsWith(`.${name}`))
    const beside = named.find((one) => one.path === group + name)
    if (beside) return `“${beside.label}”`
    return named[0] ? `“${named[0].label}” under ${named[0].title}` : name
  })
  return `${words[0].toUpperCase()}${words.slice(1)}.`
}

const ENTER_DAY = 'Enter the day, as in 2026-03-31.'

function wordsOf(issue: z.core.$ZodIssue): string {
  const path = issue.path.join('.')
  if (path.endsWith('evidence.certificateDate') || path === 'confirmed.on') return ENTER_DAY
  if (/^holidays\.\d+\.date$/.test(path)) return 'Enter the day, as in 2026-12-24, or 12-24 for every year.'
  if (/\.seasons\.\d+\.(from|to)$/.test(path)) return 'Enter month and day, as in 11-01.'
  if (/\.(from|until)$/.test(path) && issue.code !== 'custom') return ENTER_DAY
  if (path === 'confirmed.by') return 'Enter who confirmed it.'
  if (issue.code === 'invalid_type') return `Enter a ${issue.expected === 'number' ? 'number' : 'value'}.`
  if (issue.code === 'too_small') {
    if (issue.origin === 'string') return 'Enter a name.'
    return issue.inclusive ? `Must be at least ${issue.minimum}.` : `Must be above ${issue.minimum}.`
  }
  if (issue.code === 'too_big') return `Must be at most ${issue.maximum}.`
  if (issue.code === 'not_multiple_of') return `Must be a multiple of ${issue.divisor}.`
  if (issue.code === 'invalid_union') return 'Enter the percentage and, for full scale, the range.'
  return issue.code === 'custom' ? inFormWords(issue.message, path) : issue.message
}
