import type { Option } from './option-groups'

/**
 * What has to be found out at the machine before an option is ordered, short enough for one sentence; the
 * whole caution stands with the option. In the order of what hurts most. Codes that call for no finding out
 * (lockout, hot oil, a qualified person) are left to the cautions.
 */
const TO_CONFIRM: readonly (readonly [string, string])[] = [
  ['raised-load-unsupported', 'that no raised load hangs on this pressure'],
  ['pilot-supply-lost-when-vented', 'that no clamp, brake or pilot supply loses what it needs'],
  ['confirm-unlogged-loads', 'the loads that were not logged (cold start, jam, largest tool)'],
  ['pressure-equipment', 'what pressure equipment law asks for the accumulator'],
  ['motor-starts-limit', 'the starts per hour the motor’s maker allows'],
  ['minimum-speed-suction', 'the lowest speed the pump’s maker allows'],
  ['force-at-high-pressure-slow', 'that strokes against more resistance may become slow'],
  ['setting-below-weakest-component', 'the rating of the weakest component'],
  ['relief-to-be-replaced', 'that a relief valve with a vent port fits'],
  ['flow-set-by-valves', 'that every actuator’s speed is set by its own valve'],
  ['load-sensing-line', 'that the valves can report the highest load'],
  ['motor-frame-and-protection', 'frame, coupling and breaker of the motor'],
  ['cycle-time-penalty', 'that production can spare the longer cycle'],
]

/** Those that the machine file may say once and for all. */
const CONFIRMED_ONCE: ReadonlySet<string> = new Set([
  'confirm-unlogged-loads',
  'pilot-supply-lost-when-vented',
])

const MOST = 2

/** The first things to confirm on site for an option; empty where its cautions name none. */
export function toConfirm(
  cautions: Option['cautions'],
  needsConfirmation: Option['needsConfirmation'] = true,
): string[] {
  return TO_CONFIRM.filter(([code]) => cautions.some((caution) => caution.code === code))
    .filter(([code]) => needsConfirmation || !CONFIRMED_ONCE.has(code))
    .slice(0, MOST)
    .map(([, words]) => words)
}
