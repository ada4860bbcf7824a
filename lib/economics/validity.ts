import type { Validity } from '@/lib/contract/local-dates'

/**
 * The version that holds on a date: of those whose days hold it the one that begins last, null where none does.
 * ISO dates sort as text. A version without a beginning has always held.
 */
export function versionOn<V extends Partial<Validity>>(
  versions: readonly V[] | undefined,
  date: string,
): V | null {
  let best: V | null = null
  for (const version of versions ?? []) {
    const holds = (version.from ?? '') <= date && (version.until === undefined || date <= version.until)
    if (holds && (best === null || (version.from ?? '') > (best.from ?? ''))) best = version
  }
  return best
}

/** No version begins later. */
export const LAST_DATE = '9999-12-31'

/** The day the latest version begins on; the last of all days without one. */
export const lastBeginning = (versions: readonly Validity[] | undefined) =>
  (versions ?? [])
    .map(({ from }) => from)
    .sort()
    .at(-1) ?? LAST_DATE
