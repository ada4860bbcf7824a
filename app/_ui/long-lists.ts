import { count } from './format'

/** More rows than anybody reads at once. */
export const FIRST_ROWS = 25

const FIRST_NAMES = 6

/** Names one behind the other; of many the first, and how many more there are. */
export function namesInShort(names: readonly (string | undefined)[]): string {
  // One left over is as short by its name.
  if (names.length <= FIRST_NAMES + 1) return names.join(', ')
  return `${names.slice(0, FIRST_NAMES).join(', ')} and ${count(names.length - FIRST_NAMES)} more`
}
