import type { ChannelDeclaration } from '@/lib/contract/machine'
import type { ImportReport } from './report'
import type { Survey, SurveyedColumn } from './survey'
import { UNITS_OF } from './unit-of'

/** What tells a channel's quantity, place or unit; `only-one` where the quantity has no other. */
export type EvidenceSource = 'declared' | 'name-and-unit' | 'name' | 'unit' | 'header' | 'values' | 'only-one'
/** `declared`: a person said so; `certain`: name and unit say the same; `guessed`: told from the values alone. */
export type Confidence = 'declared' | 'certain' | 'likely' | 'guessed'

export interface Evidence {
  readonly quantity: EvidenceSource
  readonly location: EvidenceSource
  readonly unit: EvidenceSource
  readonly confidence: Confidence
}

/** Why a column is no channel. */
export type Unused =
  | 'time'
  | 'words'
  | 'empty'
  | 'other-quantity'
  | 'raw-signal'
  | 'extra'
  | 'not-declared'
  | 'not-recognised'

export interface UnderstoodColumn extends SurveyedColumn {
  /** What it is read as; null where it is not used. */
  readonly channel: ChannelDeclaration | null
  readonly evidence: Evidence | null
  readonly unused: Unused | null
}

const ONE_PLACE: readonly string[] = ['current', 'voltage', 'power-factor', 'speed', 'temperature']

type Problems = ImportReport['problems']
const has = (problems: Problems, column: string, ...codes: readonly string[]): boolean =>
  problems.some((problem) => problem.column === column && codes.includes(problem.code))

function quantitySource(column: SurveyedColumn, { quantity }: ChannelDeclaration): EvidenceSource {
  const byUnit = column.unitQuantity === quantity
  if (column.named !== quantity) return byUnit ? 'unit' : 'values'
  return byUnit ? 'name-and-unit' : 'name'
}

function locationSource(
  column: SurveyedColumn,
  { column: name, quantity, location }: ChannelDeclaration,
  problems: Problems,
): EvidenceSource {
  if (has(problems, name, 'assumed-location')) return 'values'
  if (column.namedLocation === location) return 'name'
  return ONE_PLACE.includes(quantity) ? 'only-one' : 'values'
}

function unitSource(
  column: SurveyedColumn,
  { column: name, quantity }: ChannelDeclaration,
  problems: Problems,
): EvidenceSource {
  if (has(problems, name, 'assumed-unit', 'assumed-us-gallons')) return 'values'
  if (column.unitQuantity === quantity) return 'header'
  return UNITS_OF[quantity].length === 1 ? 'only-one' : 'values'
}

function evidenceOf(
  column: SurveyedColumn,
  channel: ChannelDeclaration,
  declared: ChannelDeclaration | undefined,
  problems: Problems,
): Evidence {
  const from = {
    quantity: declared ? 'declared' : quantitySource(column, channel),
    location: declared?.location ? 'declared' : locationSource(column, channel, problems),
    unit: declared?.unit ? 'declared' : unitSource(column, channel, problems),
  } as const
  return { ...from, confidence: confidenceOf(from, has(problems, channel.column, 'assumed-quantity')) }
}

function confidenceOf(from: Omit<Evidence, 'confidence'>, isQuantityOpen: boolean): Confidence {
  const sources = [from.quantity, from.location, from.unit]
  if (sources.includes('values') || isQuantityOpen) return 'guessed'
  if (sources.includes('declared')) return 'declared'
  return from.quantity === 'name-and-unit' || from.unit === 'only-one' ? 'certain' : 'likely'
}

function unusedOf(column: SurveyedColumn, problems: Problems): Unused {
  if (has(problems, column.column, 'extra-phase-unused', 'extra-channel-unused')) return 'extra'
  if (has(problems, column.column, 'raw-signal-needs-scale')) return 'raw-signal'
  if (column.kind === 'time') return 'time'
  if (column.kind === 'empty') return 'empty'
  if (column.kind === 'word') return 'words'
  if (column.named === 'never') return 'other-quantity'
  return column.named === null && column.unitQuantity === null ? 'not-recognised' : 'not-declared'
}

/**
 * Every column of a file with what it is read as and what told so.
 * @param declared channels that the machine or a person declares, empty where none are
 */
export function columnEvidence(
  survey: Survey,
  { channels, problems, unusedColumns }: Pick<ImportReport, 'channels' | 'problems' | 'unusedColumns'>,
  declared: readonly ChannelDeclaration[],
): UnderstoodColumn[] {
  const left = [...channels]
  const leftOver = [...unusedColumns]
  // Declared names of a file without a header stand for its columns in their order, its time before them.
  const inOrder = problems.some(({ code }) => code === 'assumed-columns-in-order')
  const channelAt = (column: SurveyedColumn): number => {
    if (!inOrder) return left.findIndex((channel) => channel.column === column.column)
    return survey.columns.length - column.index <= left.length ? 0 : -1
  }
  return survey.columns.map((column) => {
    const at = channelAt(column)
    const [channel] = at >= 0 ? left.splice(at, 1) : []
    if (channel) {
      const said = declared.find((one) => one.column.trim() === channel.column)
      return { ...column, channel, evidence: evidenceOf(column, channel, said, problems), unused: null }
    }
    const unusedAt = leftOver.indexOf(column.column)
    if (unusedAt >= 0) leftOver.splice(unusedAt, 1)
    // Neither a channel nor left over: the file's time is read from it.
    const unused = unusedAt < 0 ? 'time' : unusedOf(column, problems)
    return { ...column, channel: null, evidence: null, unused }
  })
}
