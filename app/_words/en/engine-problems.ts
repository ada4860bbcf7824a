import type { EngineProblemCode } from '../codes'
import type { Dictionary } from '../dictionary'

export const engineProblems: Pick<Dictionary['problems'], EngineProblemCode> = {
  'current-below-no-load': (said) =>
    `${said.things('sample shows', 'samples show')} less current than the motor needs without load${said.part('noLoadCurrentA', (a) => ` (${a} A)`)}. Check the nameplate, the clamp and whether it sits around one conductor.`,
  'current-clamped-to-no-load': (said) =>
    `${said.things('sample was', 'samples were')} between half of and the full no-load current${said.part('noLoadCurrentA', (a) => ` of ${a} A`)} and counted as no load.`,
  'motor-overload': (said) =>
    `${said.things('sample lies', 'samples lie')} above the motor’s rating${said.percent('share', (share) => `, ${share} of the running time`)}. Short overloads are normal; long ones overheat the motor.`,
  'missing-cells-held': (said) =>
    `${said.things('missing value was', 'missing values were')} bridged with the reading before.`,
  'default-no-load-current': (said) =>
    `The motor’s no-load current is not given; a default${said.part('noLoadCurrentA', (a) => ` of ${a} A`)} stands in. It is the first thing to find out: idle power hangs on it.`,
  'default-loss-split': () =>
    'The motor’s part-load efficiencies are not given; a default split of its losses stands in.',
  'zero-offset-corrected': (said) =>
    `The sensor reads${said.part('offset', (offset) => ` ${offset}`)} at standstill; this was taken off.`,
  'readings-contradict': (said) =>
    `${said.things('sample holds readings', 'samples hold readings')} that contradict one another${said.percent('share', (share) => `, ${share} of the running time`)}; what they leave over stands as unaccounted. Check places, units and scale of the sensors.`,
  'no-electric-channel': () =>
    'Neither power nor current was logged: the electric input comes from the pump’s and the motor’s models. Log one of them to measure it.',
  'unknown-option-cost': (said) =>
    `The site’s costs name “${said.value('option')}”, which is no option; this cost was not used. Check the spelling.`,
  'open-circuit-pressure': (said) =>
    `The pressure${said.part('pressureBar', (bar) => ` of ${bar} bar`)} lies outside what the sensor or the circuit can show: cable or sensor open?`,
}
