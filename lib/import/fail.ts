import { type ErrorValues, TankwardError } from '@/lib/errors'
import type { ImportErrorCode } from './codes'

/** A `TankwardError` whose code is one of the import's own. */
export function importError(code: ImportErrorCode, values: ErrorValues): TankwardError {
  return new TankwardError(code, values)
}
