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
  'minimum-speed-suction': () =>
    'Below the lowest speed its maker allows a pump sucks badly and its bearings lack oil. Ask the maker for that speed, and check that the pump primes itself at it.',
  'drive-response': () =>
    'A drive needs time to bring the pump up to speed. Check that strokes still begin fast enough and that pressure does not dip.',
  'motor-cooling-low-speed': () =>
    'A motor that cools itself gets hot when it gives torque at low speed for long. Check its rating on a drive, the cable lengths and the filters against interference.',
  'force-at-high-pressure-slow': () =>
    'Above the unloading pressure only the small pump moves the load: strokes that meet more resistance than was logged become slow.',
  'load-sensing-line': () =>
    'The valves must report the highest load to the pump. Too long or too soft a signal line makes the pressure swing.',
  'flow-set-by-valves': () =>
    'An accumulator gives its oil as fast as the valves let it: every actuator needs its speed set by a valve of its own.',
  'motor-speed-rises': () =>
    'A better motor slips less: pump flow and the power taken rise a little. Check the pump’s highest speed.',
  'motor-frame-and-protection': () =>
    'Motors of a higher class can be longer, start with more current and need another setting of their protection. Check frame, coupling and breaker.',
  'confirm-highest-load': (said) =>
    `Confirm the highest pressure that any load asks for, with cold start, jam and largest tool${said.part('loggedBar', (bar) => `; the log shows up to ${bar} bar`)}.`,
  'confirm-what-hangs': () =>
    'Confirm what else hangs on this pressure: pilot supply of pilot-operated valves, clamps, brakes, accumulators.',
  'keeps-pilot-supply': () =>
    'Pilot supply hangs on this pressure: confirm that pilot-operated valves still shift when it is lowered.',
  'keeps-clamps': () =>
    'Clamps hang on this pressure: confirm that they keep their force, by a check valve or a supply of their own.',
  'keeps-brakes': () =>
    'Brakes hang on this pressure: confirm that they do what they must when it is lowered, and that no load moves.',
  'keeps-accumulators': () =>
    'Accumulators hang on this pressure: confirm that they keep their charge and are charged as before.',
  'keeps-other': () =>
    'Something else hangs on this pressure: confirm that it keeps what it needs when it is lowered.',
}
