import type { Dictionary } from '../dictionary'
import type { Said } from '../said'

/** A figure with its interval: `at 61 bar (59 to 63)`. */
const between = (said: Said, low: string, high: string) =>
  said.part(low, (from) => ` (${from}${said.part(high, (to) => ` to ${to}`)})`)
const betweenPercent = (said: Said, low: string, high: string) =>
  said.percent(low, (from) => ` (${from}${said.percent(high, (to) => ` to ${to}`)})`)

export const findings: Dictionary['findings'] = {
  'cracks-early': (said) =>
    `The relief valve begins to open too early${said.part('crackingBar', (bar) => `, at ${bar} bar`)}${said.percent('ratio', (ratio) => `: ${ratio}`)}${betweenPercent(said, 'ratioLow', 'ratioHigh')} of its full-flow pressure${said.part('settingBar', (bar) => ` of ${bar} bar`)}${said.percent('healthyRatio', (ratio) => `, where its kind should hold to ${ratio}`)}. Oil that the work could use goes to tank before the setting is reached, and that is the cost given here. What mending it saves is in the options: where a flow control meters, a sound valve keeps a higher pressure, and the input may even rise.`,
  'leaks-below-cracking': (said) =>
    `Oil passes the relief valve below its cracking pressure${said.part('leakLpm', (lpm) => `: ${lpm} L/min at cracking`)}${between(said, 'leakLowLpm', 'leakHighLpm')}${said.percent('leakShare', (share) => `, ${share} of its rated flow`)}${said.part('ratedFlowLpm', (lpm) => ` of ${lpm} L/min`)}. It was seen while the machine moved${said.part('meanBar', (bar) => ` at ${bar} bar on average`)} and grows with pressure.`,
  'setting-drifted': (said) =>
    `The relief valve’s setting is not what the machine’s data say${said.part('settingBar', (bar) => `: found ${bar} bar`)}${between(said, 'settingLowBar', 'settingHighBar')}${said.part('nameplateBar', (bar) => `, entered ${bar} bar`)}${said.percent('driftShare', (share) => `, ${share} off`)}. Find out which one is meant; only a higher setting costs.`,
  hunting: (said) =>
    `The pressure swings by itself while the relief valve passes oil${said.part('swingBar', (bar) => `: ${bar} bar either way`)}${said.part('frequencyHz', (hz) => `, ${hz} times a second`)}${said.percent('regularShare', (share) => `; ${share} of the swing is at this one frequency`)}${said.part('swingShutBar', (bar) => `; with the valve shut it swings by ${bar} bar`)}. It wears the valve and shakes the machine more than it costs energy${said.part('sampleRateHz', (hz) => `. At ${hz} samples a second a faster swing may look slower than it is`)}.`,
  'leaks-beyond-relief': (said) =>
    `Oil flows into the system while nothing should move${said.part('leakLpm', (lpm) => `: ${lpm} L/min`)}${between(said, 'leakLowLpm', 'leakHighLpm')}${said.part('meanBar', (bar) => ` at ${bar} bar`)}${said.percent('leakShare', (share) => `, ${share} of what the pump gives`)}. Seals of the actuators or spools of the valves let it by.`,
  'pump-worn': (said) =>
    `The pump gives less than it should${said.percent('efficiency', (share) => `: volumetric efficiency ${share}`)}${betweenPercent(said, 'efficiencyLow', 'efficiencyHigh')}${said.part('pressureBar', (bar) => ` at ${bar} bar`)}${said.percent('nameplateEfficiency', (share) => `, nameplate ${share}`)}${said.part('leakageShareOfNameplate', (times) => `; it leaks ${times} times as much as a new one`)}.`,
}

export const checks: Dictionary['checks'] = {
  dirt: () => 'Dirt under the poppet or in the damping orifice: take a sample of the oil, clean the valve.',
  air: () => 'Air in the oil: foam in the tank, a leaking suction line, a low oil level.',
  'pilot-seat': () => 'The pilot’s seat and poppet: worn or scored ones let oil by; replace the cartridge.',
  spring: () => 'The springs of pilot and main stage: set, broken, or of another range than ordered.',
  'remote-pilot-line': () =>
    'The remote pilot line: leaks, a vent valve that does not close, a long or soft hose; shut it off at the valve and look again.',
  'knob-turned': () => 'Whether somebody has turned the knob; mark and seal it once it is right.',
  gauge: () => 'The pressure sensor against a calibrated gauge at the same port.',
  'other-valves-to-tank': () =>
    'Other ways to tank that the meters cannot tell from this one: a second relief, an open drain cock, a vent valve. A flow meter on the relief’s return tells.',
  'line-meter-cannot-tell': () =>
    'First whether it is the pump: the flow was measured in the system line, where a relief or another valve that leaks to tank looks the same. A flow meter at the pump’s outlet or in the relief’s return tells.',
  'cylinder-seals': () =>
    'Piston seals: hold the cylinder at its end stop, open the far port with the machine locked out and made safe, and look for oil.',
  'valve-spools': () =>
    'Directional valve spools and check valves of the shut circuits: warm valve bodies show where oil passes.',
  'fixed-pump-saves-nothing-yet': () =>
    'With a fixed pump the relief passes what the leak leaves: mending it saves energy only with unloading, an accumulator or a pump that follows demand.',
  'case-drain': () =>
    'The pump’s case drain, or its flow at no load and at full pressure with a flow meter: what is missing leaks.',
  'oil-temperature': () => 'The oil’s temperature and grade: thin oil leaks more in a sound pump.',
  speed: () => 'The motor’s speed and the pump’s displacement against what was entered.',
}
