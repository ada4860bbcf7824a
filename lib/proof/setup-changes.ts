import type { Machine } from '@/lib/contract/machine'
import type { OptionId } from '@/lib/contract/option-result'
import { meanOf } from '@/lib/numeric/mean'
import type { ProofLog } from './units'
import { type ProofWarning, warning } from './warning'

/** What an option itself changes of the machine file; a change there is no surprise. */
const OWN_FIELDS: Readonly<Partial<Record<OptionId, readonly string[]>>> = {
  'vent-relief-at-idle': ['unloading'],
  'open-centre-unloading': ['unloading'],
  'second-relief-setting': ['relief'],
  'lower-relief-setting': ['relief'],
  'replace-relief-valve': ['relief'],
  'restore-pump': ['pump'],
  'smaller-pump': ['pump'],
  'high-low-pumps': ['pump', 'furtherPumps'],
  'pressure-compensated-pump': ['pump', 'relief'],
  'load-sensing-pump': ['pump', 'relief'],
  'efficient-motor': ['motor'],
  'variable-speed-drive': ['motor'],
}

/** Parts of the machine file that are no plate: names, and what a person says of columns and loads. */
const NO_PLATES = new Set(['version', 'name', 'channels', 'confirmed', 'cooling'])

/** The value with its keys in order, as text: a database gives them back in an order of its own. */
function ordered(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(ordered).join()}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null'
  const entries = Object.entries(value).filter(([, one]) => one !== undefined)
  return `{${entries
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, one]) => `${key}:${ordered(one)}`)
    .join()}}`
}

/** Parts of the machine's set-up that say something else than at the decision, beyond what the measure changes itself. */
export function plateChanges(then: Machine, now: Machine, optionId: OptionId | null): ProofWarning[] {
  const own = (optionId && OWN_FIELDS[optionId]) ?? []
  const old = new Map<string, unknown>(Object.entries(then))
  const fresh = new Map<string, unknown>(Object.entries(now))
  const changed = [...new Set([...old.keys(), ...fresh.keys()])].filter(
    (name) =>
      !NO_PLATES.has(name) && !own.includes(name) && ordered(old.get(name)) !== ordered(fresh.get(name)),
  )
  return changed.map((part) => warning('nameplate-changed', { part }))
}

/** A setting that logs show to have moved by more than this share has moved (common practice, no source). */
const MOVED_SHARE = 0.05
/** The relief's setting is the measure's own matter. */
const MOVES_RELIEF: ReadonlySet<OptionId> = new Set([
  'second-relief-setting',
  'lower-relief-setting',
  'replace-relief-valve',
  'pressure-compensated-pump',
  'load-sensing-pump',
])

/** A relief that stands elsewhere than before, as the logs themselves show it. */
export function settingMoved(logs: readonly ProofLog[], optionId: OptionId | null): ProofWarning[] {
  if (optionId && MOVES_RELIEF.has(optionId)) return []
  const of = (side: ProofLog['side']) =>
    logs.flatMap((log) =>
      log.side === side && log.evidence.reliefSettingPa !== null ? [log.evidence.reliefSettingPa] : [],
    )
  const [before, after] = [of('baseline'), of('comparison')]
  if (before.length === 0 || after.length === 0) return []
  const [beforePa, afterPa] = [meanOf(before), meanOf(after)]
  if (Math.abs(afterPa - beforePa) <= MOVED_SHARE * beforePa) return []
  return [warning('setting-moved', { beforePa, afterPa })]
}

/** What was logged, where, and how well. */
const fittedIn = ({ evidence }: ProofLog) =>
  evidence.sensors.map(
    ({ quantity, location, accuracy }) => `${quantity} ${location} ${accuracy ? ordered(accuracy) : ''}`,
  )

/** Sensors that are fitted on one side only, or are of another accuracy. */
export function sensorChanges(logs: readonly ProofLog[]): ProofWarning[] {
  const of = (side: ProofLog['side']) => logs.filter((log) => log.side === side)
  const all = (side: ProofLog['side']) => new Set(of(side).flatMap(fittedIn))
  const everywhere = (side: ProofLog['side']) => {
    const sets = of(side).map((log) => new Set(fittedIn(log)))
    return [...all(side)].filter((name) => sets.every((set) => set.has(name)))
  }
  const [before, after] = [all('baseline'), all('comparison')]
  const place = (name: string) => name.split(' ').slice(0, 2).join(' ')
  const moved = [
    ...everywhere('baseline').filter((name) => !after.has(name)),
    ...everywhere('comparison').filter((name) => !before.has(name)),
  ].map(place)
  return [...new Set(moved)].map((sensor) => warning('sensor-changed', { sensor }))
}

/** A logger that samples more than this many times as fast or slow sees other things (common practice, no source). */
const RATE_FACTOR = 5

export function loggingChanged(logs: readonly ProofLog[]): ProofWarning[] {
  const of = (side: ProofLog['side']) =>
    logs.filter((log) => log.side === side).map(({ evidence }) => evidence.sampleIntervalS)
  const [before, after] = [of('baseline'), of('comparison')]
  if (before.length === 0 || after.length === 0) return []
  const [beforeS, afterS] = [meanOf(before), meanOf(after)]
  const factor = Math.max(beforeS / afterS, afterS / beforeS)
  return factor > RATE_FACTOR ? [warning('sampling-changed', { beforeS, afterS })] : []
}
