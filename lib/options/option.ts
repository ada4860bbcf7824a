import type { Machine } from '@/lib/contract/machine'
import type { Note, OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { Ledger } from '@/lib/ledger/ledger'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { SupplyChange, SupplyStep } from './supply'

/** What an option looks at to judge whether the machine can do with it, and to choose its settings. */
export interface OptionContext {
  readonly machine: Machine
  readonly site: Site
  readonly ledger: Ledger
  /** The machine's models with the log's own evidence put in, the relief's line too. */
  readonly model: MachineModel
  /** The supply as logged, step by step, and the same as distinct operating points for a search. */
  readonly supply: readonly SupplyStep[]
  readonly points: readonly SupplyStep[]
  /** Model energy of a supply, J. */
  energyJ(supply: readonly SupplyStep[]): number
}

/** What an option would do on this machine. `change` is null where it is infeasible or not judged. */
export interface OptionPlan {
  readonly judged: boolean
  readonly reasons: readonly Note[]
  readonly settings: Readonly<Record<string, number | string | null>>
  readonly change: SupplyChange | null
  readonly cycleTimeChangeShare: number
  readonly cautions: readonly Note[]
  /** Misfit of the replay itself as a share of the saving (1 sd), where it is more than the usual one. */
  readonly replayShareSd?: number
  /** The same as a share of the input, where a small saving is the difference of two large changes. */
  readonly replaySd?: number
}

/** One way to save: a file in catalogue/, listed in catalogue.ts. */
export interface Option {
  readonly id: OptionId
  plan(context: OptionContext): OptionPlan
}

export const note = (code: string, values: Note['values'] = {}): Note => ({ code, values })

/** A plan that cannot be carried out, with why. */
export function refused(
  reasons: readonly Note[],
  settings: OptionPlan['settings'],
  cautions: readonly Note[] = [],
): OptionPlan {
  return { judged: true, reasons, settings, change: null, cycleTimeChangeShare: 0, cautions }
}

/** A plan that the fitted sensors do not let anyone judge, with why. */
export function notJudged(reason: Note, settings: OptionPlan['settings']): OptionPlan {
  return { ...refused([reason], settings), judged: false }
}
