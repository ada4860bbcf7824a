import type { Dictionary } from './dictionary'
import { cautions } from './en/cautions'
import { engineProblems } from './en/engine-problems'
import { checks, findings } from './en/findings'
import { formulas } from './en/formulas'
import { importErrors } from './en/import-errors'
import { importProblems } from './en/import-problems'
import { exact, fields, inputSources, parts, remedies, standings } from './en/interval'
import { levels, locations, phaseClasses, phaseKinds, quantities, streams } from './en/names'
import { options } from './en/options'
import { otherErrors } from './en/other-errors'
import { reasons } from './en/reasons'
import { settings } from './en/settings'
import { symbols } from './en/symbols'

/** English. */
export const en: Dictionary = {
  language: 'en',
  problems: { ...importProblems, ...engineProblems },
  findings,
  checks,
  reasons,
  cautions,
  errors: { ...importErrors, ...otherErrors },
  options,
  phaseKinds,
  phaseClasses,
  streams,
  levels,
  quantities,
  locations,
  explanations: { formulas, symbols, parts, remedies, exact, inputSources, standings, fields, settings },
  place: {
    fileName: (name) => name,
    line: (line) => `line ${line}`,
    column: (column) => `column “${column}”`,
  },
  unknown: (code) => `No words for “${code}” yet`,
}
