import type { ProofWords } from '../proof'
import { proofWarnings } from './proof-warnings'

/** What measures and proofs are said with, in English. */
export const proofWords: ProofWords = {
  states: {
    proposed: 'proposed',
    approved: 'approved',
    ordered: 'ordered',
    installed: 'installed',
    verified: 'verified',
    rejected: 'rejected',
  },
  steps: {
    proposed: 'Propose again',
    approved: 'Approve',
    ordered: 'Order',
    installed: 'Mark as installed',
    verified: 'Verify with this proof',
    rejected: 'Reject',
  },
  verdicts: {
    proven: 'Proven',
    'proven-less': 'Proven, but less than predicted',
    'not-proven': 'Not proven',
    worse: 'Worse than before',
    'not-enough-data': 'Not enough data',
  },
  drivers: {
    cycles: 'Energy per cycle',
    production: 'Energy against pieces made',
    'running-hours': 'Energy against hours run',
  },
  adjustments: {
    'idle-time': 'idle time',
    'working-time': 'working time',
    'load-pressure': 'mean load pressure',
    'oil-temperature': 'oil temperature',
  },
  constant: 'constant',
  parts: {
    'baseline-scatter': {
      name: 'Scatter of the baseline',
      why: 'cycles (or logs) differ from the fitted line, and only so many were seen; those that are like their neighbours count for fewer',
    },
    'new-scatter': {
      name: 'Scatter of what is compared',
      why: 'the machine as it was would have scattered around the line here too',
    },
    'between-logs': {
      name: 'Differences between logs',
      why: 'logs differ by more than their cycles tell: oil, voltage, tools; at least 0.25 % of the energy',
    },
    sensors: {
      name: 'Sensors',
      why: 'one unknown offset a sensor and log: it does not cancel between logs, unless the same sensors stayed fitted',
    },
    models: {
      name: 'Models from nameplates',
      why: 'the same in every log: cancels as far as it acts on both sides alike',
    },
    'of-each-log': { name: 'Each log’s own fit', why: 'what the readings of a log leave open by themselves' },
  },
  warnings: proofWarnings,
}
