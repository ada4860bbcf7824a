import type { Dictionary } from '../dictionary'

export const cautions: Dictionary['cautions'] = {
  'lockout-stored-energy': () =>
    'Before touching the circuit: stop, lock out and tag, let the pressure down and check that it is gone. Accumulators and raised loads stay charged after shutdown.',
  'pilot-supply-lost-when-vented': () =>
    'What hangs on this pressure loses it while the pump is vented: pilot supply of pilot-operated valves, clamps, brakes, accumulators. Check each one first.',
  'raised-load-unsupported': () =>
    'A raised load must never hang on this pressure alone: make sure that a valve at the actuator holds it.',
  'confirm-unlogged-loads': () =>
    'One log does not show every load. A person confirms those that were not logged (cold start, jam, largest tool) before any pressure is lowered.',
  'safety-reassessment': () =>
    'Changing the circuit of a press, lift or clamp calls for a new safety assessment before it runs again.',
  'motor-starts-limit': (said) =>
    `More starts than the motor’s maker allows burn its winding${said.part('startsPerHour', (n) => `; the table allows ${n} an hour for this size`)}. Ask the maker where the manual gives another number.`,
  'hot-oil': () => 'Oil and parts can be hot enough to burn. Let them cool or protect yourself.',
  'setting-below-weakest-component': () =>
    'Never set a relief above the rating of the weakest component, and seal the setting after changing it.',
  'cycle-time-penalty': (said) =>
    `Cycles get longer${said.percent('share', (share) => ` by ${share}`)}. Make sure that production can spare the time.`,
  'pressure-equipment': () =>
    'Accumulators fall under the pressure equipment law of the country: inspection, marking, a way to vent or isolate them on shutdown, and a warning label.',
  'qualified-person': () =>
    'This is advice from a recording. Local codes, the machine’s manual and a qualified person decide.',
  'relief-to-be-replaced': () =>
    'A direct-acting relief has no vent port: this means replacing it with a pilot-operated valve with a vent port.',
}
