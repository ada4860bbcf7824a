import type { Basis } from '@/lib/contract/estimate'
import type { CashFlow, DefaultUse, Explanation, Input, Rule, SensorUse } from '@/lib/contract/explanation'
import type { PhaseKind } from '@/lib/contract/result'
import { FORMULAS, type FormulaCode } from './formulas'
import type { Grounds } from './grounds'
import { type GroundRule, mergedRules } from './merged-rules'
import { type Part, toldParts } from './parts'
import { QUANTITIES } from './quantities'
import { narrowingOf } from './remedy'
import type { SensorRole } from './sensor-grounds'
import type { SymbolCode } from './symbols'

/** What the interval takes as exact, where it does. */
export const EXACT = [
  'planned-hours',
  'running-hours',
  'price',
  'emission',
  'cooling',
  'discount-rate',
  'life',
  'logged-input',
  'time',
] as const
export type ExactCode = (typeof EXACT)[number]

/** What is particular to a figure; the rest follows from the grounds. */
export interface Figured {
  readonly value: number | null
  readonly low?: number
  readonly high?: number
  readonly unit: string
  readonly basis?: Basis
  readonly formula: FormulaCode
  /** Symbols whose rules are told, and the kinds of phases they are told for; all where left out. */
  readonly rulesOf?: readonly SymbolCode[]
  readonly kinds?: readonly PhaseKind[]
  readonly inputs?: readonly Input[]
  readonly parts?: readonly Part[]
  /** True where every sensor of the log stands behind the figure. */
  readonly allSensors?: boolean
  readonly exact?: readonly ExactCode[]
  readonly cashFlows?: readonly CashFlow[]
}

/** An input as a whole: what is left out is null. */
export const input = (
  symbol: string,
  value: number | string,
  unit: string,
  source: Input['source'],
  from: string | null = null,
): Input => ({ symbol, value, unit, source, found: null, from, kinds: null })

const told = (rule: GroundRule, loggedHours: number): Rule => {
  const quantity = QUANTITIES[rule.symbol]
  const mean = rule.means[rule.symbol]
  return {
    symbol: rule.symbol,
    kinds: [...rule.kinds],
    hours: rule.hours,
    timeShare: loggedHours > 0 ? rule.hours / loggedHours : 0,
    terms: rule.terms.map((term) => ({ ...term })),
    mean: mean !== undefined && quantity ? mean / quantity.factor : null,
    unit: quantity?.unit ?? '1',
  }
}

/** Read beside a rule's terms, where those depend on it. */
const READ_BESIDE: readonly SymbolCode[] = ['powerMeter', 'currentMeter', 'speedMeter', 'voltageMeter']

/** Mean readings and model flows that a rule uses, in the order of its terms after the pressures. */
function inputsOfRule(rule: GroundRule, wanted: readonly SymbolCode[], grounds: Grounds): Input[] {
  return (Object.entries(rule.means) as [SymbolCode, number][]).flatMap(([symbol, mean]): Input[] => {
    const quantity = QUANTITIES[symbol]
    const isTerm = rule.terms.some((term) => term.symbol === symbol)
    const isUsed = isTerm || wanted.includes(symbol) || READ_BESIDE.includes(symbol)
    if (!quantity || symbol === rule.symbol || !isUsed) return []
    const sensor = grounds.sensors.find(({ role }) => role === quantity.role)
    return [
      {
        symbol,
        value: mean / quantity.factor,
        unit: quantity.unit,
        source: sensor ? 'sensor' : 'fitted',
        found: null,
        from: sensor?.column ?? null,
        kinds: [...rule.kinds],
      },
    ]
  })
}

/** Inputs of all rules; what two of them read over the same time stands once. */
function inputsOfRules(
  rules: readonly GroundRule[],
  wanted: readonly SymbolCode[],
  grounds: Grounds,
): Input[] {
  const inputs = new Map<string, Input>()
  for (const rule of rules) {
    for (const one of inputsOfRule(rule, wanted, grounds)) inputs.set(`${one.symbol} ${one.kinds}`, one)
  }
  return [...inputs.values()]
}

/** Models that a rule's terms are worked out with, as beginnings of fields of the machine file. */
const PLATES: Readonly<Partial<Record<SymbolCode, readonly string[]>>> = {
  fullFlowModel: ['pump.'],
  fullFlowAtSpeed: ['pump.'],
  displacedFlow: ['pump.'],
  displacedFlowAtSpeed: ['pump.'],
  partStrokeFlow: ['pump.', 'motor.'],
  reliefLineFlow: ['relief.'],
  powerFromPump: ['pump.'],
  powerFromPumpAtSpeed: ['pump.'],
  powerFromCurrent: ['motor.'],
  shaftFromPower: ['motor.'],
  inputFromPower: ['motor.'],
  inputFromShaft: ['motor.'],
  startingPower: ['motor.'],
}

function plateInputs(symbols: ReadonlySet<string>, grounds: Grounds): Input[] {
  const starts = Object.entries(PLATES).flatMap(([symbol, fields]) => (symbols.has(symbol) ? fields : []))
  return grounds.machine.plate.flatMap(({ field, value, unit }): Input[] => {
    if (!starts.some((start) => field.startsWith(start))) return []
    const of = grounds.models.find((one) => one.field === field && one.unit === unit)
    const plate = input(field, value, unit, 'nameplate', field)
    return [of && of.found !== of.value ? { ...plate, found: of.found } : plate]
  })
}

/** Parameters of the models behind a figure that are neither defaults nor told as a number of a nameplate. */
function modelInputs(parts: readonly Part[], told: readonly Input[], grounds: Grounds): Input[] {
  return grounds.models.flatMap(({ parameter, source, value, unit, field, found }): Input[] => {
    const isUsed = parts.some((part) => part.source === parameter)
    if (!isUsed || source === 'default') return []
    if (told.some((one) => one.symbol === field && one.unit === unit)) return []
    // What a log found for a number of the nameplate is told beside that number.
    const from = field ? 'nameplate' : source
    return [{ ...input(parameter, value, unit, from, field), found: found === value ? null : found }]
  })
}

const sensorUse = ({ role: _, offsetOf: __, ...use }: Grounds['sensors'][number]): SensorUse => use

/** Defaults among the parameters behind a figure. */
function defaultsOf(parts: readonly Part[], grounds: Grounds): DefaultUse[] {
  return grounds.models.flatMap((model): DefaultUse[] => {
    const isUsed = parts.some(({ source }) => source === model.parameter)
    if (model.source !== 'default' || !isUsed) return []
    const { parameter, value, unit, limit, standing, found, limitAfter } = model
    return [{ parameter, value, unit, limit, standing, found, limitAfter }]
  })
}

/** A figure's explanation from what is particular to it and what the whole result rests on. */
export function toldFigure(figure: string, of: Figured, grounds: Grounds): Explanation {
  const { parts = [], rulesOf = [], kinds, allSensors = false } = of
  const symbols: readonly SymbolCode[] = FORMULAS[of.formula]
  const rules = mergedRules(
    grounds.rules.filter(
      (rule) => rulesOf.includes(rule.symbol) && (!kinds || rule.kinds.some((kind) => kinds.includes(kind))),
    ),
  )
  const terms = new Set(rules.flatMap((rule) => [rule.symbol, ...rule.terms.map(({ symbol }) => symbol)]))
  const beside = rules.flatMap(({ means }) => READ_BESIDE.filter((symbol) => symbol in means))
  const asked = new Set<string>([...terms, ...symbols, ...beside])
  const roles = new Set<SensorRole | null>(
    [...asked].map((symbol) => QUANTITIES[symbol as SymbolCode]?.role ?? null),
  )
  // Where no rule gives it a flow or power, it is nil by its phase; and phases rest on every sensor.
  const isByPhase = allSensors || (rulesOf.length > 0 && rules.length === 0)
  const sensors = grounds.sensors.filter(
    ({ role, offsetOf }) => isByPhase || roles.has(role) || parts.some(({ source }) => source === offsetOf),
  )
  const columnOf = (source: string) =>
    grounds.sensors.find(({ offsetOf }) => offsetOf === source)?.column ?? null
  const intervalParts = toldParts(parts, columnOf)
  const plates = plateInputs(terms, grounds)
  return {
    figure,
    value: of.value,
    low: of.low ?? null,
    high: of.high ?? null,
    unit: of.unit,
    basis: of.basis ?? null,
    formula: { code: of.formula, symbols: [...symbols] },
    rules: rules.map((rule) => told(rule, grounds.loggedHours)),
    inputs: [
      ...(of.inputs ?? []),
      ...inputsOfRules(rules, symbols, grounds),
      ...plates,
      ...modelInputs(parts, plates, grounds),
    ],
    sensors: sensors.map(sensorUse),
    defaults: defaultsOf(parts, grounds),
    intervalParts,
    takenAsExact: [...(of.exact ?? [])],
    cashFlows: [...(of.cashFlows ?? [])],
    narrowing: narrowingOf(intervalParts, grounds),
  }
}
