/** Values an error carries for the edge to put into words: place, expected, actual. */
export type ErrorValues = Readonly<Record<string, string | number | null>>

/**
 * The one error type of `lib`: a code and values, no words. The edge maps codes to sentences,
 * exit codes and HTTP statuses (`app/_words`).
 */
export class TankwardError extends Error {
  readonly code: string
  readonly values: ErrorValues

  constructor(code: string, values: ErrorValues = {}, options?: ErrorOptions) {
    super(`${code} ${JSON.stringify(values)}`, options)
    this.name = 'TankwardError'
    this.code = code
    this.values = values
  }
}
