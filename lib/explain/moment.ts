import type { Term } from '@/lib/contract/explanation'
import type { PhaseKind } from '@/lib/contract/result'
import type { Readings } from '@/lib/ledger/operating-point'
import type { StepFrame } from '@/lib/ledger/step-frame'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { SymbolCode } from './symbols'

/** One moment of the account: readings and the models that go with them. */
export interface Moment {
  readonly read: Readings
  readonly kind: PhaseKind
  readonly model: MachineModel
  readonly curve: ReliefCurve
  readonly frame: StepFrame
  /** The pump's model with a little more displacement, and the relief's line a little higher or its leak a little larger: to see what answers. */
  readonly movedModel: MachineModel
  readonly movedCurve: ReliefCurve
  readonly movedLeak: ReliefCurve
}

/** How a symbol comes about: terms, and the value of the symbol and of each term's symbol, SI. */
export interface Terms {
  readonly symbol: SymbolCode
  readonly terms: readonly Term[]
  readonly values: Readonly<Partial<Record<SymbolCode, number>>>
}
