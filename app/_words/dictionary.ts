import type { LevelName } from '@/lib/contract/levels'
import type { Location, Quantity } from '@/lib/contract/machine'
import type { OptionId, PhaseClass, PhaseKind, Stream } from '@/lib/contract/result'
import type { ImportErrorCode, ImportProblemCode } from '@/lib/import/codes'
import type {
  CautionCode,
  CheckCode,
  EngineProblemCode,
  FindingCode,
  OtherErrorCode,
  ReasonCode,
} from './codes'
import type { Explanations } from './explanations'
import type { Said } from './said'

/** A sentence made from a statement's values. */
export type Say = (said: Said) => string

/** What went wrong in a few words, and what was expected, what was found and what to do. */
export interface ErrorWords {
  readonly title: string
  readonly detail: Say
}

export interface OptionWords {
  readonly title: string
  readonly whatItIs: string
}

/** All words of one language; a second language is a second file of this type. */
export interface Dictionary {
  /** BCP 47 tag, also for numbers. */
  readonly language: string
  readonly problems: Readonly<Record<ImportProblemCode | EngineProblemCode, Say>>
  readonly findings: Readonly<Record<FindingCode, Say>>
  /** What to look at on the machine after a finding. */
  readonly checks: Readonly<Record<CheckCode, Say>>
  readonly reasons: Readonly<Record<ReasonCode, Say>>
  readonly cautions: Readonly<Record<CautionCode, Say>>
  readonly errors: Readonly<Record<ImportErrorCode | OtherErrorCode, ErrorWords>>
  readonly options: Readonly<Record<OptionId, OptionWords>>
  readonly phaseKinds: Readonly<Record<PhaseKind, string>>
  readonly phaseClasses: Readonly<Record<PhaseClass, string>>
  readonly streams: Readonly<Record<'electricIn' | Stream, string>>
  /** Levels that tell the kinds of phases apart. */
  readonly levels: Readonly<Record<LevelName, string>>
  readonly quantities: Readonly<Record<Quantity, string>>
  readonly locations: Readonly<Record<Location, string>>
  readonly explanations: Explanations
  /** Where a statement was found: each takes the value it names. */
  readonly place: Readonly<Record<'fileName' | 'line' | 'column', (value: string) => string>>
  /** A code without words, shown with what it carries. */
  readonly unknown: (code: string) => string
}
