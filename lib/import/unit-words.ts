import type { Quantity } from '@/lib/contract/machine'
import { M3S_PER_LPM, PA_PER_BAR, S_PER_HOUR, type Unit } from '@/lib/units'
import { S_PER_MINUTE } from './clock'

/** A unit as written in a log: the contract's unit, and how many of it one written unit is. */
export interface WrittenUnit {
  readonly unit: Unit
  readonly factor: number
  readonly quantity: Quantity
  /** True for a gallon that does not say whose it is. */
  readonly gallonOpen: boolean
}

const LITRES_PER_M3 = 1e3
const LPM_PER_LITRE_A_SECOND = 1 / LITRES_PER_M3 / M3S_PER_LPM

type Row = readonly [Quantity, Unit, number, string]

/** Keys are lower case without spaces, dots, underscores; `3` for `³`. */
const TABLE: readonly Row[] = [
  ['pressure', 'bar', 1, 'bar bar(g) barg bar(u) baru bar(rel) bargauge bar(e) bars baru(e)'],
  ['pressure', 'bar', 1e-3, 'mbar mbarg hpa'],
  ['pressure', 'bar', 1 / PA_PER_BAR, 'pa pascal'],
  ['pressure', 'bar', 0.980665, 'kgf/cm2 kg/cm2 kp/cm2'],
  ['pressure', 'kPa', 1, 'kpa kpa(g) kpag kilopascal'],
  ['pressure', 'MPa', 1, 'mpa mpa(g) mpag n/mm2 megapascal'],
  ['pressure', 'psi', 1, 'psi psi(g) psig psid lbf/in2 lb/in2 lbs/in2 poundspersquareinch'],
  [
    'flow',
    'L/min',
    1,
    'l/min lpm l/mn ltr/min lit/min liter/min litre/min liters/min litres/min dm3/min lmin l/minute lmin-1 l*min-1 litri/min litros/min litres/mn',
  ],
  ['flow', 'L/min', LPM_PER_LITRE_A_SECOND, 'l/s lps dm3/s'],
  ['flow', 'L/min', S_PER_MINUTE / S_PER_HOUR, 'l/h lph l/hr'],
  ['flow', 'L/min', 1 / LITRES_PER_M3, 'ml/min cm3/min ccm/min cc/min'],
  ['flow', 'L/min', LITRES_PER_M3, 'm3/min'],
  [
    'flow',
    'gpm',
    1,
    'gpm usgpm gpm(us) gpmus gal/min galus/min usgal/min gal(us)/min gallons/min gallon/min',
  ],
  ['flow', 'm³/h', 1, 'm3/h m3/hr cbm/h m3h cmh m3/std m3/hour'],
  ['current', 'A', 1, 'a amp amps ampere amperes ampère arms a(rms) aac aeff amperios ampereac'],
  ['current', 'A', 1e3, 'ka'],
  ['voltage', 'V', 1, 'v volt volts vac vrms v(rms) veff'],
  ['voltage', 'V', 1e3, 'kv'],
  ['power', 'kW', 1, 'kw kilowatt kilowatts'],
  ['power', 'kW', 1e3, 'mw'],
  ['power', 'W', 1, 'w watt watts'],
  ['power', 'hp', 1, 'hp bhp hp(e) horsepower'],
  ['speed', 'rpm', 1, 'rpm u/min 1/min min-1 tr/min t/min rev/min r/min upm giri/min g/min rpm(1/min) /min'],
  ['speed', 'rpm', S_PER_MINUTE, '1/s u/s rps s-1'],
  ['temperature', '°C', 1, '°c degc c gradc ºc celsius cel deg°c'],
  ['temperature', '°F', 1, '°f degf f ºf fahrenheit'],
  ['power-factor', '1', 1, 'cosphi cosφ'],
]

const UNITS_BY_KEY = new Map<string, WrittenUnit>()
for (const [quantity, unit, factor, keys] of TABLE) {
  for (const key of keys.split(' ')) {
    UNITS_BY_KEY.set(key, {
      quantity,
      unit,
      factor,
      gallonOpen: /^g(?:pm|al)/.test(key) && !key.includes('us'),
    })
  }
}

/** A unit's spelling without what carries no meaning: case, spaces, dots, superscripts. */
function keyOf(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/\u00fc/g, 'u')
    .replace(/^\[(.*)\]$/, '$1')
    .replace(/^\((.*)\)$/, '$1')
    .replace(/[\s_\u00b7^.]/g, '')
    .replace('⁻', '-')
    .replace('ø', '')
}

/** A text as a unit of the trade, or null. `MW` and `mW` are told apart by nothing else in a log of a pump: MW is meant nowhere. */
export function readUnit(text: string): WrittenUnit | null {
  const trimmed = text.trim()
  if (trimmed === '' || trimmed.length > 24) return null
  if (/^mW$/.test(trimmed)) return null
  const key = keyOf(trimmed)
  const known = UNITS_BY_KEY.get(key)
  if (known !== undefined) return known
  // An underscore stands for the slash where a column name may hold no slash: `L_min`, `m3_h`.
  const slashed = trimmed.replace(/_per_|_| per | pro /g, '/')
  return UNITS_BY_KEY.get(keyOf(slashed)) ?? null
}

const OTHER_UNITS =
  /^(?:%|pct|percent|s|sec|sek|secs|seconds?|sekunden|ms|us|µs|min|mins|minutes?|h|hr|hrs|hours?|d|mA|kvar|var|kVA|VA|kWh|Wh|MWh|Hz|mm|cm|m|in|mm\/s|m\/s|g|N|kN|Nm|t|kg|-|1|l|m³|m3|gal|ppm|dB|date|time|hh:mm:ss(?:[.,]f+)?|dd[./]mm[./]yyyy.*|yyyy-mm-dd.*)$/i

/** True for any text that names a unit, also one that no channel can have (%, s, mA, kWh). */
export function isUnitText(text: string): boolean {
  const bare = text.trim().replace(/^[[(](.*)[\])]$/, '$1')
  return readUnit(bare) !== null || OTHER_UNITS.test(bare)
}
