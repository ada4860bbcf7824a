import type { Dictionary } from '../dictionary'

export const reasons: Dictionary['reasons'] = {
  'no-idle-loaded-time': () => 'The log shows no idling at full pressure, so there is nothing to save here.',
  'already-unloads': () => 'The machine already unloads its pump while idle.',
  'needs-load-pressure': () =>
    'Not judged: without a pressure sensor at the load nobody can say how much pressure the work needs. Fit one and log again.',
  'no-step-below-low-setting': (said) =>
    `No working step stays below a lower setting by the margin${said.part('marginBar', (bar) => ` of ${bar} bar`)}.`,
  'setting-already-lowest': (said) =>
    `The relief is already set as low as the logged loads allow${said.part('neededBar', (bar) => `: they need ${bar} bar with the margin`)}.`,
  'idles-too-short': (said) =>
    `The idles are too short for this${said.part('longestS', (s) => `: the longest lasts ${s} s`)}${said.part('waitS', (s) => `, the wait is ${s} s`)}.`,
  'too-many-starts': (said) =>
    `The motor would start more often than it may${said.part('startsPerHour', (n) => `: ${n} an hour`)}${said.part('allowedPerHour', (n) => `, allowed ${n}`)}.`,
  'rest-too-short': (said) =>
    `The motor would rest too short between stop and start${said.part('restS', (s) => `: ${s} s`)}${said.part('neededS', (s) => `, needed ${s} s`)}.`,
  'pump-already-compensated': () => 'The pump is already a variable one that follows the flow.',
  'nothing-over-relief': () => 'Next to nothing goes over the relief, so there is nothing to save here.',
  'flow-not-met': (said) =>
    `The work would get less flow than it takes now${said.part('neededLpm', (lpm) => `: it needs ${lpm} L/min`)}${said.part('availableLpm', (lpm) => `, available ${lpm} L/min`)}.`,
  'no-measured-power': () =>
    'Electric power was not measured but worked out from current: the saving rests on two models. A power meter would settle it.',
  'model-not-trusted': (said) =>
    `The machine’s model does not reproduce the logged input well enough${said.part('nmbe', (share) => ` (mean bias ${share}`)}${said.part('cvRmse', (share) => `, spread ${share})`)}. Check nameplate and sensors before relying on this.`,
}

export const findings: Dictionary['findings'] = {
  'cracks-early': (said) =>
    `The relief valve begins to open too early${said.part('ratio', (ratio) => `: at ${ratio} of its full-flow pressure`)}${said.part('limit', (limit) => `, where its kind should hold to ${limit}`)}. Wear or dirt; have it cleaned, repaired or replaced.`,
  'leaks-below-cracking': (said) =>
    `Oil passes the relief valve below its cracking pressure${said.part('leakShare', (share) => `: ${share} of rated flow`)}. A worn or dirty pilot seat does that.`,
  'setting-drifted': (said) =>
    `The relief valve’s setting is not what the machine’s data say${said.part('settingBar', (bar) => `: found ${bar} bar`)}${said.part('nameplateBar', (bar) => `, entered ${bar} bar`)}. Check which one is meant.`,
  hunting: () =>
    'The relief valve’s pressure swings while it passes oil: a long or soft remote pilot line, air, or dirt.',
}
