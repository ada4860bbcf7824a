import type { MeasureState } from '@/lib/contract/measure'
import type { Adjustment, Driver, ProofPart, Verdict } from '@/lib/contract/proof'
import type { ProofWarningCode } from '@/lib/proof/warning-codes'
import type { Say } from './dictionary'

/** What measures and proofs are said with. */
export interface ProofWords {
  readonly states: Readonly<Record<MeasureState, string>>
  /** The step itself, as on a button. */
  readonly steps: Readonly<Record<MeasureState, string>>
  readonly verdicts: Readonly<Record<Verdict, string>>
  readonly drivers: Readonly<Record<Driver, string>>
  readonly adjustments: Readonly<Record<Adjustment, string>>
  /** What a constant of a model stands for. */
  readonly constant: string
  readonly parts: Readonly<Record<ProofPart['source'], { readonly name: string; readonly why: string }>>
  readonly warnings: Readonly<Record<ProofWarningCode, Say>>
}
