import type { ProofWarningCode } from './warning-codes'

/** Why a proof is to be read with care: a code and the values its sentence needs. */
export interface ProofWarning {
  readonly code: ProofWarningCode
  readonly values: Readonly<Record<string, string | number | null>>
}

export const warning = (code: ProofWarningCode, values: ProofWarning['values'] = {}): ProofWarning => ({
  code,
  values,
})
