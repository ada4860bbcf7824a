import type { Analysis, Finding, Note, OptionResult, Problem, Result } from '@/lib/contract/result'
import type { Dictionary, Say } from './dictionary'
import { en } from './en'
import { sentenceOf } from './sentence'

/** A problem of a recording with its sentence. */
export function describeProblem(problem: Problem, words: Dictionary = en): Problem & { message: string } {
  const { code, line, column, count, values } = problem
  return { ...problem, message: sentenceOf(code, { ...values, line, column, count }, words.problems, words) }
}

const withWords =
  (entries: Readonly<Record<string, Say>>, words: Dictionary) =>
  <One extends Note | Finding>(note: One) => ({
    ...note,
    message: sentenceOf(note.code, note.values, entries, words),
  })

/** A caution or what is to be confirmed, with its sentence. */
export function describeCaution(note: Note, words: Dictionary = en): Note & { message: string } {
  return withWords(words.cautions, words)(note)
}

/** An option's row with a sentence beside every code. */
export function describeOption(option: OptionResult, words: Dictionary = en): Result['options'][number] {
  const asCaution = withWords(words.cautions, words)
  return {
    ...option,
    reasons: option.reasons.map(withWords(words.reasons, words)),
    cautions: option.cautions.map(asCaution),
    toConfirm: option.toConfirm.map(asCaution),
  }
}

/** An analysis with a sentence beside every code: what the command prints and the HTTP API answers. */
export function describe(analysis: Analysis, words: Dictionary = en): Result {
  const withChecks = (finding: Finding) => ({
    ...withWords(words.findings, words)(finding),
    checks: finding.checks.map(withWords(words.checks, words)),
  })
  return {
    ...analysis,
    log: { ...analysis.log, problems: analysis.log.problems.map((one) => describeProblem(one, words)) },
    reliefFit: analysis.reliefFit && {
      ...analysis.reliefFit,
      findings: analysis.reliefFit.findings.map(withChecks),
    },
    findings: analysis.findings.map(withChecks),
    options: analysis.options.map((option) => describeOption(option, words)),
  }
}
