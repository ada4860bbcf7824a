import { levels as LEVEL_WORDS } from '@/app/_words/en/names'
import { LEVEL_NAMES, type LevelName } from '@/lib/contract/levels'
import type { FieldGroup } from './fields'

/** Where the levels stand in the set-up page: other pages link to it. */
export const LEVELS_ANCHOR = 'levels'

const UNITS: Readonly<Record<LevelName, string>> = {
  runningPowerKW: 'kW',
  runningCurrentA: 'A',
  unloadedBelowBar: 'bar',
  standbyBelowBar: 'bar',
  reliefOpensBar: 'bar',
  deadHeadFromBar: 'bar',
  deadHeadBar: 'bar',
  noFlowShare: '0–1',
  fullFlowShare: '0–1',
}

const HELP: Readonly<Record<LevelName, string>> = {
  runningPowerKW: 'Electric input; below it the motor stands still.',
  runningCurrentA: 'Where current is logged and power is not.',
  unloadedBelowBar:
    'Pump pressure. While no actuator moves, below it the pump is unloaded and above it loaded.',
  standbyBelowBar: 'Pump pressure that a load-sensing pump holds while nothing is asked of it.',
  reliefOpensBar: 'Pump pressure; below it nothing but leakage passes the relief.',
  deadHeadFromBar: 'Pump pressure from which, where no flow meter tells, the whole flow passes the relief.',
  deadHeadBar: 'Pump pressure while dead-headed.',
  noFlowShare: 'Flow into the system as a share of the pump’s; 5 % is 0.05.',
  fullFlowShare: 'The same share; below it part of the flow passes the relief.',
}

/** Levels that tell the kinds of phases apart: each found in every log by itself, and open to a person's word. */
export const LEVEL_GROUP: FieldGroup = {
  id: LEVELS_ANCHOR,
  title: 'Levels that tell phases apart',
  about:
    'Found in each log by itself: leave these empty unless a log’s phases come out wrong. What is entered here holds for all logs of this machine, and they are analysed again with it at once; emptied, the level is found again.',
  fields: LEVEL_NAMES.map((name) => ({
    path: `levels.${name}`,
    label: LEVEL_WORDS[name],
    unit: UNITS[name],
    help: HELP[name],
    optional: true,
  })),
}
