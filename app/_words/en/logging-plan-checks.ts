import type { LoggingPlanWords } from '../logging-plan'

/**
 * Usual precautions (ISO 4413 and lockout rules such as OSHA 1910.147 ask for most of them; the rest is common practice).
 * The sheet reminds; it trains nobody.
 */
export const checkLists: LoggingPlanWords['checkLists'] = [
  {
    title: 'Before anything is opened',
    items: [
      'Work agreed with the person in charge of the machine; area kept clear; the machine’s manual and local codes read and followed where they ask for more.',
      'Raised loads lowered or propped mechanically; nothing hangs on oil pressure alone.',
      'Motor stopped, all energy supplies locked out and tagged, each person with a lock of their own; start tried in vain.',
      'Accumulators discharged to tank or isolated and vented, and their gauge read: they stay charged after shutdown.',
      'Pressure let down on every branch, also behind check valves and in held cylinders; gauges at nil; valves moved by hand to let out what is trapped.',
      'Oil cooled down: hot oil scalds, and so do pipes and tank.',
    ],
  },
  {
    title: 'Fitting hydraulic sensors',
    items: [
      'Never loosen or tighten a fitting under pressure; never feel for a leak with a hand. Oil that gets under the skin is an emergency even where the wound looks small: hospital at once, and say “injected with hydraulic oil”.',
      'Eye protection, gloves against oil; dirt kept out: ports cleaned, caps and drip tray at hand.',
      'Hoses, test points and adapters rated above the relief setting; threads of one kind; hoses laid without kinks, away from moving parts and hot pipes.',
      'Nothing shuts or throttles the relief, its return or a case drain; no safety valve or switch is bridged.',
      'Flow meters with the arrow the right way; lines bled.',
    ],
  },
  {
    title: 'Electrical work, by qualified people only',
    items: [
      'Cabinet opened, clamps and voltage leads fitted only by a person qualified and authorised for it, dead wherever possible.',
      'Clamps, leads and meter of the right measurement category and voltage, sound and within their inspection date; fused voltage leads.',
      'Clamp around one conductor, arrow towards the motor; leads led out so that the door closes and locks.',
      'Signals of the control taken through isolators, without acting back on it.',
    ],
  },
  {
    title: 'Before leaving it to run',
    items: [
      'Tools and people out, guards back, locks and tags off by those who put them on.',
      'First start at low pressure where the machine allows it; leaks looked for from a distance, with paper or card.',
      'All channels read sensibly: at rest, idle, full pressure; starting current does not overrun the clamp for longer than the start.',
      'Cables and hoses marked, logger locked away, a name and a telephone number on it.',
    ],
  },
  {
    title: 'Taking down',
    items: [
      'At the end once more at rest for a minute: zero readings noted before anything is taken off.',
      'Stopped, locked out, pressure let down and checked as before; test points capped, lines refitted, bled and tried for leaks.',
      'Oil level checked; the machine handed back to the person in charge.',
    ],
  },
]
