/**
 * Marks by which loggers say "no value" (common practice, no source). They are missing, never zero.
 */
const MARKS =
  /^(?:[-–—−_.*?#x]+|nan|-?nan\(ind\)|n\/?a\.?|#n\/?a|#n(?:v|um|ull)!?|#div\/0!|#wert!|#value!|null|nil|none|[+-]?o\.?l\.?|over(?:load|flow|range)?|under(?:load|flow|range)?|err(?:or)?\.?|fehler|[+-]?inf(?:inity)?|[+-]?∞|fail|invalid|ungültig|-?1\.#(?:inf|qnan|ind|snan)\d*|bad|void|no data|keine daten)$/i

/** True where a trimmed cell says that there is no value: empty or one of the known marks. */
export function isMissingMark(cell: string): boolean {
  return cell === '' || MARKS.test(cell)
}
