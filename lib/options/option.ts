import type { Machine } from '@/lib/contract/machine'
import type { Note, OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { Ledger } from '@/lib/ledger/ledger'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { SupplyChange } from './change'
import type { CarriedOut } from './duty'
import type { Given } from './settings'
import type { SupplyStep } from './supply'

/** A duty as logged, and what becomes of it with any change. */
export interface Replayer extends CarriedOut {
  with(change: SupplyChange): CarriedOut
}

/** What an option looks at to judge whether the machine can do with it, and to choose its settings. */
export interface OptionContext {
  readonly machine: Machine
  readonly site: Site
  readonly ledger: Ledger
  /** The machine's models with the log's own evidence put in, the relief's line too. */
  readonly model: MachineModel
  /** The supply as logged, step by step. */
  readonly supply: readonly SupplyStep[]
  /** The same as distinct operating points, whole idles at one point. */
  readonly duty: Replayer
  /** The same by fewer, wider points, for a search. */
  readonly rough: Replayer
  /** The same where no point holds idles on both sides of one of the ages, s. */
  roughAt(agesS: readonly number[]): Replayer
}

/** A value of a setting that a search looked at. */
export interface Tried {
  readonly setting: string
  /** In the unit that the setting's name says. */
  readonly value: number
  /** Saved share by the models, the other settings at their best. */
  readonly savedShare: number
  /** Whether the machine could work with it. */
  readonly feasible: boolean
}

/** What an option would do on this machine. `change` is null where it is infeasible or not judged. */
export interface OptionPlan {
  readonly judged: boolean
  readonly reasons: readonly Note[]
  readonly settings: Readonly<Record<string, number | string | null>>
  readonly change: SupplyChange | null
  readonly cycleTimeChangeShare: number
  /** How flat the best is: what was tried along each setting. */
  readonly searched?: readonly Tried[]
  readonly cautions: readonly Note[]
  /** Misfit of the replay itself as a share of the saving (1 sd), where it is more than the usual one. */
  readonly replayShareSd?: number
  /** The same as a share of the input, where a small saving is the difference of two large changes. */
  readonly replaySd?: number
}

/** One way to save: a file in catalogue/, listed in catalogue.ts. */
export interface Option {
  readonly id: OptionId
  /** @param given settings that a person moved; the others are chosen */
  plan(context: OptionContext, given?: Given): OptionPlan
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
