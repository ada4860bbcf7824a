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
}

export const findings: Dictionary['findings'] = {
  'cracks-early': (said) =>
    `The relief valve begins to open too early${said.part('crackingBar', (bar) => `, at ${bar} bar`)}${said.percent('ratio', (ratio) => `: ${ratio} of its full-flow pressure`)}${said.percent('healthyRatio', (ratio) => `, where its kind should hold to ${ratio}`)}. Wear or dirt; have it cleaned, repaired or replaced.`,
  'leaks-below-cracking': (said) =>
    `Oil passes the relief valve below its cracking pressure${said.part('leakLpm', (lpm) => `: ${lpm} L/min`)}${said.percent('leakShare', (share) => `, ${share} of its rated flow`)}${said.part('ratedFlowLpm', (lpm) => ` of ${lpm} L/min`)}. A worn or dirty pilot seat does that.`,
  'setting-drifted': (said) =>
    `The relief valve’s setting is not what the machine’s data say${said.part('settingBar', (bar) => `: found ${bar} bar`)}${said.part('nameplateBar', (bar) => `, entered ${bar} bar`)}${said.percent('driftShare', (share) => `, ${share} off`)}. Check which one is meant.`,
  hunting: () =>
    'The relief valve’s pressure swings while it passes oil: a long or soft remote pilot line, air, or dirt.',
}
