/** Codes of the engine and of the app's own work that must have words; the import's lists live with the import. */
export const ENGINE_PROBLEM_CODES = [
  'current-clamped-to-no-load',
  'motor-overload',
  'default-no-load-current',
  'readings-contradict',
  'no-electric-channel',
  'sensors-silent',
  'pressure-spike',
  'unknown-option-cost',
] as const

export const FINDING_CODES = ['cracks-early', 'leaks-below-cracking', 'setting-drifted', 'hunting'] as const

export const REASON_CODES = [
  'no-idle-loaded-time',
  'already-unloads',
  'needs-load-pressure',
  'no-step-below-low-setting',
  'setting-already-lowest',
  'idles-too-short',
  'too-many-starts',
  'rest-too-short',
  'pump-already-compensated',
  'nothing-over-relief',
  'flow-not-met',
  'pressure-not-met',
  'no-idle-time',
  'no-work-logged',
  'no-measured-power',
  'model-not-trusted',
  'costs-energy',
  'no-smaller-pump',
  'no-pump-split',
  'pump-already-load-sensing',
  'torque-beyond-motor',
  'no-room-to-charge',
  'accumulator-too-large',
  'pump-not-worn',
  'relief-healthy',
  'motor-already-efficient',
  'motor-not-in-table',
] as const

export const CAUTION_CODES = [
  'lockout-stored-energy',
  'pilot-supply-lost-when-vented',
  'raised-load-unsupported',
  'confirm-unlogged-loads',
  'safety-reassessment',
  'motor-starts-limit',
  'hot-oil',
  'setting-below-weakest-component',
  'cycle-time-penalty',
  'pressure-equipment',
  'qualified-person',
  'relief-to-be-replaced',
  'minimum-speed-suction',
  'drive-response',
  'motor-cooling-low-speed',
  'force-at-high-pressure-slow',
  'load-sensing-line',
  'flow-set-by-valves',
  'motor-speed-rises',
  'motor-frame-and-protection',
] as const

export const OTHER_ERROR_CODES = [
  'needs-pump-pressure',
  'needs-flow-or-model',
  'file-missing',
  'machine-invalid',
  'site-invalid',
  'corrections-invalid',
  'correction-outside',
  'correction-without-samples',
  'no-samples',
  'chunk-damaged',
  'samples-missing',
  'gzip-damaged',
  'unknown-machine',
  'import-undone',
  'interrupted',
  'internal',
] as const

export type EngineProblemCode = (typeof ENGINE_PROBLEM_CODES)[number]
export type FindingCode = (typeof FINDING_CODES)[number]
export type ReasonCode = (typeof REASON_CODES)[number]
export type CautionCode = (typeof CAUTION_CODES)[number]
export type OtherErrorCode = (typeof OTHER_ERROR_CODES)[number]
