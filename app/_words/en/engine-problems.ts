import type { EngineProblemCode } from '../codes'
import type { Dictionary } from '../dictionary'

export const engineProblems: Pick<Dictionary['problems'], EngineProblemCode> = {
  'current-clamped-to-no-load': (said) =>
    `${said.things('sample was', 'samples were')} between half of and the full no-load current${said.part('noLoadCurrentA', (a) => ` of ${a} A`)} and counted as no load.`,
  'motor-overload': (said) =>
    `${said.things('sample lies', 'samples lie')} above the motor’s rating${said.percent('share', (share) => `, ${share} of the running time`)}. Short overloads are normal; long ones overheat the motor.`,
  'default-no-load-current': (said) =>
    `The motor’s no-load current is not given; a default${said.part('noLoadCurrentA', (a) => ` of ${a} A`)} stands in. It is the first thing to find out: idle power hangs on it.`,
  'readings-contradict': (said) =>
    `${said.things('sample holds readings', 'samples hold readings')} that contradict one another${said.percent('share', (share) => `, ${share} of the running time`)}; what they leave over stands as unaccounted. Check places, units and scale of the sensors.`,
  'no-electric-channel': () =>
    'Neither power nor current was logged: the electric input comes from the pump’s and the motor’s models. Log one of them to measure it.',
  'unknown-option-cost': (said) =>
    `The site’s costs name “${said.value('option')}”, which is no option; this cost was not used. Check the spelling.`,
  'sensors-silent': (said) =>
    `Pressure, current and power are all missing at ${said.things('sample', 'samples')}${said.part('seconds', (s) => ` (${s} s)`)}. They count as stopped and add nothing: the real input was higher if the motor ran.`,
  'pressure-spike': (said) =>
    `${said.things('reading lies', 'readings lie')} far above what the relief lets through${said.part('limitBar', (bar) => ` (over ${bar} bar)`)} and were taken as missing. Check sensor and cable.`,
}
