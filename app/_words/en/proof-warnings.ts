import type { ProofWords } from '../proof'
import type { Said } from '../said'

const VARIABLES: Readonly<Record<string, string>> = {
  'idle-time': 'idle time',
  'working-time': 'working time',
  'load-pressure': 'mean load pressure',
  'oil-temperature': 'oil temperature',
  production: 'pieces made',
  'running-hours': 'hours run',
  constant: 'constant',
}
const SIDES: Readonly<Record<string, string>> = {
  baseline: 'before the change',
  comparison: 'after the change',
  before: 'before the change',
  after: 'after the change',
}
/** A value's own name in words; each is used, so that none is shown twice. */
const variable = (said: Said) => VARIABLES[said.value('variable')] ?? said.value('variable')
const side = (said: Said) => SIDES[said.value('side')] ?? said.value('side')
const upper = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
/** Parts of the machine file in words. */
const PARTS: Readonly<Record<string, string>> = {
  motor: 'the motor',
  pump: 'the pump',
  relief: 'the relief valve',
  unloading: 'how it unloads',
  furtherPumps: 'the further pumps',
  furtherSets: 'the further sets',
  auxiliaries: 'the auxiliaries',
}

export const proofWarnings: ProofWords['warnings'] = {
  'few-cycles': (said) =>
    `Only ${said.things('cycle', 'cycles')} ${side(said)}; ${said.value('wanted')} or more should be logged.`,
  'one-log': (said) =>
    `Only one log ${side(said)}: how much logs differ from each other cannot be seen, and the interval may be too narrow.`,
  'pieces-missing': (said) =>
    `${upper(said.things('log', 'logs'))} ${side(said)} without a count of pieces; enter it with the log or they stay out.`,
  'logs-without-evidence': (said) =>
    `${said.things('log', 'logs')} left out: analysed before what proofs need was kept. They come in once they are analysed again.`,
  'logs-without-date': (said) =>
    `${said.things('log', 'logs')} without a date left out: nobody can tell on which side they lie.`,
  'not-installed': () =>
    'Nothing is installed yet: there is nothing to compare. The baseline can be looked at already.',
  'adjustment-not-logged': (said) =>
    `${upper(variable(said))} is not known of every log, so the baseline is not adjusted for it.`,
  'adjustment-dropped': (said) =>
    `The baseline could not be adjusted for ${variable(said)}: it hardly varied, follows from the others, or there are too few to tell.`,
  'weak-variable': (said) =>
    `${upper(variable(said))} tells little of the energy (t = ${said.value('t')}; 2 is usually asked for).`,
  'outside-baseline': (said) =>
    `${upper(variable(said))} lies outside of what the baseline saw${said.percent('share', (share) => ` in ${share} of what is compared`)} (baseline ${said.value('low')} to ${said.value('high')}, now ${said.value('mean')} on average): the baseline is stretched beyond its range.`,
  'not-adjusted': (said) =>
    `${upper(variable(said))} is no longer what it was (${said.value('before')} before, ${said.value('after')} now), and the baseline is not adjusted for it.`,
  'working-time-moved': (said) =>
    `Working time per cycle went from ${said.value('beforeS')} s to ${said.value('afterS')} s. If the measure made strokes slower or faster, adjusting for working time hides that: compare without it too.`,
  'cycles-unlike': (said) =>
    `The cycles before and after are not the same thing (${said.value('beforeS')} s at work before, ${said.value('afterS')} s after), so they are not compared. Most often the set-up does not say yet how the machine unloads now; or compare against pieces or hours.`,
  'sensor-changed': (said) =>
    `The logging set-up changed: ${said.value('sensor')} is fitted, or declared so, on one side only.`,
  'sampling-changed': (said) =>
    `The sampling interval changed from ${said.value('beforeS')} s to ${said.value('afterS')} s: one side may see what the other cannot.`,
  'nameplate-changed': (said) => {
    const part = said.value('part')
    return `The machine’s set-up says something else of ${PARTS[part] ?? part} than at the decision: the baseline’s machine may be another one.`
  },
  'setting-moved': (said) =>
    `The relief stands elsewhere than before, as the logs show (${said.value('before')} bar before, ${said.value('after')} bar now): not all of the difference is the measure’s.`,
  'baseline-old': (said) =>
    `The last log of the baseline is ${said.value('days')} days older than the latest one compared: much else may have changed.`,
  'baseline-not-steady': () =>
    'The baseline itself was not steady: the running sum rings among its own logs. Look for what changed there, and shorten the span.',
  'saving-fades': () =>
    'The saving gets smaller: the later logs use more than the first ones after the change.',
  'model-loose': (said) =>
    `The baseline fits loosely${said.percent('cvRmse', (share) => `: CV(RMSE) ${share}, where 30 % is the most for hourly models`)}.`,
  'input-not-measured': (said) =>
    `Electric power was not measured on every log (${said.value('basis')} from current and nameplates): errors of the model cancel only as far as they act on both sides alike.`,
  'few-trial-cycles': (said) =>
    `Only ${said.things('whole cycle', 'whole cycles')} ${side(said)}; ${said.value('wanted')} are the usual trial. Where cycles are missing, correct the kinds of phases on the machine’s page.`,
  'cycles-alike': (said) =>
    `Cycles are much like their neighbours (correlation ${said.value('lag1')}): they count for far fewer. Something drifted while it was logged.`,
  'trial-duty-differs': (said) =>
    `${upper(variable(said))} was not the same (${said.value('beforeS')} s a cycle before, ${said.value('afterS')} s after): not all of the difference is the setting’s.`,
  'no-change-seen': () =>
    'No pressure level changed at the moment given: check that it is the right moment, and what was changed.',
  'change-elsewhere': (said) =>
    `The log shows the pressures change at ${said.value('atS')} s from its first sample, not at the moment given.`,
}
