import type { Duty } from './duty'

/** Work cycles of the invented plant's trades: durations in s, loads as shares of the relief setting, flows of the pump's. */

export const BALER: Duty = {
  steps: [
    { kind: 'work-moving', durationS: [8, 11], load: [0.15, 0.22], rise: 0.6 },
    { kind: 'work-metering', durationS: [5, 9], load: [0.5, 0.62], rise: 0.4, flow: [0.3, 0.45] },
    { kind: 'work-holding', durationS: [2, 4], flow: [0, 0.01] },
    { kind: 'work-moving', durationS: [6, 8], load: [0.1, 0.14] },
  ],
  idleKind: 'idle-loaded',
  idleS: [22, 50],
  pause: { share: 0.06, durationS: [240, 600], stopShare: 0.25 },
  stoppedS: [20, 60],
  startS: [0.6, 1],
}

export const SHEAR: Duty = {
  steps: [
    { kind: 'work-moving', durationS: [1.6, 2.2], load: [0.2, 0.28] },
    { kind: 'work-metering', durationS: [2, 3], load: [0.45, 0.7], flow: [0.5, 0.7] },
    { kind: 'work-moving', durationS: [1.8, 2.4], load: [0.1, 0.15] },
  ],
  idleKind: 'idle-loaded',
  idleS: [22, 48],
  pause: { share: 0.05, durationS: [180, 500], stopShare: 0.15 },
  stoppedS: [10, 40],
  startS: [0.5, 0.9],
}

export const DEEP_DRAWING: Duty = {
  steps: [
    { kind: 'work-moving', durationS: [2.5, 3.5], load: [0.15, 0.2] },
    { kind: 'work-metering', durationS: [5, 8], load: [0.4, 0.5], rise: 0.5, flow: [0.35, 0.5] },
    { kind: 'work-holding', durationS: [3, 6], flow: [0, 0.01] },
    { kind: 'work-moving', durationS: [3, 4], load: [0.18, 0.24] },
  ],
  idleKind: 'idle-loaded',
  idleS: [7, 18],
  pause: { share: 0.05, durationS: [300, 800], stopShare: 0.3 },
  stoppedS: [30, 90],
  startS: [4, 6],
}

export const TILT: Duty = {
  steps: [
    { kind: 'work-moving', durationS: [5, 7], load: [0.35, 0.45] },
    { kind: 'work-metering', durationS: [10, 16], load: [0.45, 0.55], flow: [0.25, 0.35] },
    { kind: 'work-holding', durationS: [6, 10], lockedLoad: [0.5, 0.6], flow: [0, 0.005] },
    { kind: 'work-moving', durationS: [5, 7], load: [0.2, 0.3] },
  ],
  idleKind: 'idle-unloaded',
  idleS: [40, 90],
  pause: { share: 0.07, durationS: [200, 500], stopShare: 0.3 },
  stoppedS: [15, 40],
  startS: [0.4, 0.8],
}

export const LIFT: Duty = {
  steps: [{ kind: 'work-moving', durationS: [9, 14], load: [0.45, 0.65] }],
  idleKind: 'idle-loaded',
  idleS: [24, 80],
  pause: { share: 0.2, durationS: [120, 420], stopShare: 0.6 },
  stoppedS: [20, 60],
  startS: [0.3, 0.6],
}

export const BROACH: Duty = {
  steps: [
    { kind: 'work-moving', durationS: [3, 4], load: [0.12, 0.18] },
    { kind: 'work-moving', durationS: [2.5, 3.5], load: [0.42, 0.5] },
    { kind: 'work-metering', durationS: [6, 9], load: [0.35, 0.45], rise: 0.3, flow: [0.78, 0.86] },
    { kind: 'work-metering', durationS: [7, 10], load: [0.4, 0.5], rise: 0.2, flow: [0.45, 0.6] },
    { kind: 'work-moving', durationS: [4, 5], load: [0.15, 0.2] },
  ],
  idleKind: 'idle-loaded',
  idleS: [8, 16],
  pause: { share: 0.04, durationS: [300, 600], stopShare: 0.3 },
  stoppedS: [20, 60],
  startS: [0.7, 1.2],
}

export const TEST_STAND: Duty = {
  steps: [
    { kind: 'work-metering', durationS: [20, 40], load: [0.2, 0.3], flow: [0.15, 0.3] },
    { kind: 'work-metering', durationS: [20, 40], load: [0.4, 0.6], flow: [0.2, 0.35] },
  ],
  idleKind: 'idle-loaded',
  idleS: [120, 420],
  pause: { share: 0.1, durationS: [600, 1200], stopShare: 0 },
  stoppedS: [0, 0],
  startS: [4, 6],
}

export const FIXTURES: Duty = {
  steps: [
    { kind: 'work-moving', durationS: [3, 4.5], load: [0.5, 0.6] },
    { kind: 'work-holding', durationS: [1, 1.6], lockedLoad: [0.85, 0.9], flow: [0, 0.005] },
    { kind: 'work-moving', durationS: [2.5, 3.5], load: [0.3, 0.4] },
  ],
  idleKind: 'idle-unloaded',
  idleS: [20, 45],
  pause: { share: 0.05, durationS: [200, 500], stopShare: 0.7 },
  stoppedS: [10, 30],
  startS: [0.4, 0.7],
}
