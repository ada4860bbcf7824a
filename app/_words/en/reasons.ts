import type { Dictionary } from '../dictionary'

export const reasons: Dictionary['reasons'] = {
  'no-idle-loaded-time': () => 'The log shows no idling at full pressure, so there is nothing to save here.',
  'already-unloads': () => 'The machine already unloads its pump while idle.',
  'needs-load-pressure': () =>
    'Not judged: without a pressure sensor at the load nobody can say how much pressure the work needs. Fit one and log again.',
  'no-step-below-low-setting': (said) =>
    `No working step stays below a lower setting by the margin${said.part('marginBar', (bar) => ` of ${bar} bar`)}.`,
  'setting-already-lowest': (said) =>
    `The relief is already set as low as the logged loads allow${said.part('needBar', (bar) => `: they need ${bar} bar with the margin`)}.`,
  'idles-too-short': (said) =>
    `The idles are too short for this${said.part('restS', (s) => `: the motor must rest ${s} s after each stop`)}${said.part('startsPerHour', (n) => ` and may start ${n} times an hour`)}.`,
  'too-many-starts': (said) =>
    `The motor would start more often than it may${said.part('startsPerHour', (n) => `: ${n} times an hour`)}${said.part('restS', (s) => `, with ${s} s rest before each`)}.`,
  'rest-too-short': (said) =>
    `The motor would rest less between stop and start than it must${said.part('restS', (s) => `: ${s} s`)}${said.part('startsPerHour', (n) => `, at most ${n} starts an hour`)}.`,
  'pump-already-compensated': () => 'The pump is already a variable one that follows the flow.',
  'nothing-over-relief': () => 'Next to nothing goes over the relief, so there is nothing to save here.',
  'flow-not-met': (said) =>
    `The work would get less flow than it takes now${said.part('neededLpm', (lpm) => `: it needs ${lpm} L/min`)}${said.part('availableLpm', (lpm) => `, available ${lpm} L/min`)}.`,
  'pressure-not-met': (said) =>
    `The work needs more pressure than this would give${said.part('needBar', (bar) => `: ${bar} bar`)}.`,
  'no-idle-time': () => 'The log shows no idling with the motor running, so there is nothing to save here.',
  'no-work-logged': () =>
    'Not judged: the log shows no work, so nobody can say what pressure the work needs. Log a shift with work in it.',
  'no-measured-power': () =>
    'Electric power was not measured but worked out from current: the saving rests on two models. A power meter would settle it.',
  'model-not-trusted': (said) =>
    `The machine’s model does not reproduce the logged input well enough${said.percent('nmbe', (share) => `; mean bias ${share}`)}${said.percent('cvRmse', (share) => `; spread ${share}`)}. Check nameplate and sensors before relying on this.`,
  'costs-energy': () => 'On this machine it would cost more energy than it saves.',
  'no-smaller-pump': (said) =>
    `No smaller pump saves energy without making the strokes too long${said.percent('limitShare', (share) => `: more than ${share} of the working time`)}.`,
  'no-pump-split': (said) =>
    `No split into a small and a large pump saves energy, runs steadily and keeps the cycle time${said.percent('limitShare', (share) => ` within ${share}`)}.`,
  'pump-already-load-sensing': () => 'The pump already follows the load’s pressure.',
  'torque-beyond-motor': (said) =>
    `The work needs more torque than a motor on a drive can give${said.percent('torqueShare', (share) => `: ${share} of its rated torque`)}${said.percent('limitShare', (share) => `, at most ${share}`)}.`,
  'no-room-to-charge': (said) =>
    `There is too little room between what the work needs and the relief setting to charge an accumulator${said.part('needBar', (bar) => `: the work needs ${bar} bar`)}.`,
  'accumulator-too-large': () =>
    'Only an accumulator larger than is practical could cover the work with a smaller pump.',
  'accumulator-too-small': () => 'An accumulator of this size runs empty before the work is done.',
  'cycle-time-beyond-limit': (said) =>
    `The strokes would get too long${said.percent('share', (share) => `: ${share} more working time`)}${said.percent('limitShare', (share) => `, at most ${share} is allowed`)}.`,
  'setting-not-movable': (said) =>
    `This option has no setting${said.part('setting', (name) => ` called ${name}`)} that can be moved.`,
  'setting-out-of-range': (said) =>
    `The value${said.part('value', (value) => ` ${value}`)}${said.part('setting', (name) => ` for ${name}`)} is out of range${said.part('low', (low) => `: from ${low}`)}${said.part('high', (high) => ` to ${high}`)}.`,
  'pump-not-worn': () => 'The log does not show a worn pump: its leakage is about that of a new one.',
  'relief-healthy': () => 'The log does not show a relief valve that opens early or leaks.',
  'motor-already-efficient': (said) =>
    `The motor is already as good as the highest class in the tables${said.percent('presentEfficiency', (share) => `: rated efficiency ${share}`)}.`,
  'already-has-drive': () => 'The motor already has a drive.',
  'several-pumps': () =>
    'Not judged: this option assumes one pump on one motor, and the machine has more. Which of them to replace or to slow down is a question for its maker.',
  'motor-not-in-table': () =>
    'Not judged: the tables of efficiency classes here hold four-pole motors of 0.75 to 200 kW at 50 or 60 Hz. Compare with the maker’s data instead.',
}
