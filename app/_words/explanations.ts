import type { InputSource, Standing } from '@/lib/contract/explanation'
import type { FormulaCode } from '@/lib/explain/formulas'
import type { PartSource } from '@/lib/explain/parts'
import type { RemedyCode } from '@/lib/explain/remedy'
import type { SymbolCode } from '@/lib/explain/symbols'
import type { ExactCode } from '@/lib/explain/told'

/** What explanations of figures are said with. */
export interface Explanations {
  readonly formulas: Readonly<Record<FormulaCode, string>>
  /** How a symbol is written, and what it stands for. */
  readonly symbols: Readonly<Record<SymbolCode, readonly [written: string, name: string]>>
  readonly parts: Readonly<Record<PartSource, string>>
  readonly remedies: Readonly<Record<RemedyCode, string>>
  readonly exact: Readonly<Record<ExactCode, string>>
  readonly inputSources: Readonly<Record<InputSource, string>>
  readonly standings: Readonly<Record<Standing, string>>
  readonly fields: Readonly<Record<string, string>>
  /** Settings an option reports: name and unit. */
  readonly settings: Readonly<Record<string, readonly [name: string, unit: string]>>
}
