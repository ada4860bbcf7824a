import type { Estimate } from '@/lib/contract/estimate'
import { type Analysis, PHASE_KINDS, type PhaseKind } from '@/lib/contract/result'
import { IDLE_KINDS } from '@/lib/ledger/idle'
import { SHARE_KEYS, type ShareKey } from '@/lib/ledger/totals'
import type { FormulaCode } from './formulas'
import type { Grounds } from './grounds'
import { unpackParts } from './pack-parts'
import { type Part, scaledParts } from './parts'
import type { SymbolCode } from './symbols'
import { type Figured, input } from './told'

type Line = keyof Analysis['ledgerKWh']

/** How each line of the account is worked out, and which symbols of it have rules of their own. */
const LINES: Readonly<Record<Line, readonly [FormulaCode, readonly SymbolCode[]]>> = {
  electricIn: ['input-over-time', ['electricPower', 'shaftPower']],
  motorLoss: ['input-less-shaft', ['electricPower', 'shaftPower']],
  pumpLoss: ['shaft-less-hydraulic', ['shaftPower', 'pumpFlow']],
  overRelief: ['pressure-times-relief-flow', ['reliefFlow']],
  unloading: ['pressure-times-unloading-flow', ['unloadingFlow']],
  intoSystem: ['pressure-times-system-flow', ['systemFlow']],
  metering: ['drop-times-system-flow', ['systemFlow']],
  work: ['load-pressure-times-system-flow', ['systemFlow']],
  unaccounted: ['contradiction', ['residualFlow', 'shaftPower']],
}
const isLine = (name: string): name is Line => Object.hasOwn(LINES, name)

const SHARE_STREAMS: Readonly<Record<ShareKey, readonly SymbolCode[]>> = {
  idle: [],
  overRelief: ['reliefFlow'],
  metering: ['systemFlow'],
  work: ['systemFlow'],
  unaccounted: ['residualFlow'],
}
const isShare = (name: string): name is ShareKey => SHARE_KEYS.some((known) => known === name)
const isKind = (name: string): name is PhaseKind => PHASE_KINDS.some((known) => known === name)

/** A figure with its interval and the parts stored under its path. */
export function estimated(of: Estimate, unit: string, parts: readonly Part[]) {
  return { value: of.value, low: of.low, high: of.high, basis: of.basis, unit, parts }
}

export const partsOf = (grounds: Grounds, figure: string) => unpackParts(grounds.parts[figure] ?? [])

function lineOf(
  figure: string,
  name: string,
  of: Partial<Analysis['ledgerKWh']> | undefined,
  grounds: Grounds,
  kinds?: readonly PhaseKind[],
): Figured | null {
  if (!isLine(name) || !of?.[name]) return null
  const [formula, rulesOf] = LINES[name]
  return { ...estimated(of[name], 'kWh', partsOf(grounds, figure)), formula, rulesOf, kinds, exact: ['time'] }
}

/** Where a part of the input stands in the result, for shares of the input. */
function partOfInput(name: string, analysis: Analysis): [path: string, of: Estimate] | null {
  if (name === 'idle') return ['idle.electricKWh', analysis.idle.electricKWh]
  if (!isLine(name)) return null
  const of = analysis.ledgerKWh[name]
  return of && [`ledgerKWh.${name}`, of]
}

function shareOfInput(name: string, analysis: Analysis, grounds: Grounds): Figured | null {
  const part = partOfInput(name, analysis)
  const whole = analysis.ledgerKWh.electricIn.value
  if (!part || !(whole > 0)) return null
  const [path, of] = part
  const per = (value: number) => value / whole
  return {
    value: per(of.value),
    low: per(of.low),
    high: per(of.high),
    basis: of.basis,
    unit: '1',
    formula: 'part-of-input',
    rulesOf: isLine(name) ? LINES[name][1] : ['electricPower', 'shaftPower'],
    kinds: name === 'idle' ? IDLE_KINDS : undefined,
    inputs: [
      input('part', of.value, 'kWh', 'figure', path),
      input('input', whole, 'kWh', 'figure', 'ledgerKWh.electricIn'),
    ],
    parts: scaledParts(partsOf(grounds, path), 1 / whole),
    exact: ['logged-input'],
  }
}

/** Figures of the account: whole, by phase, at the meter, and as shares of the input. */
export function accountFigure(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  const [group, first, second] = path
  const figure = path.join('.')
  if (group === 'ledgerKWh') return lineOf(figure, first, analysis.ledgerKWh, grounds)
  if (group === 'shareOfInput') return shareOfInput(first, analysis, grounds)
  if (group === 'ledgerByPhase' && isKind(first)) {
    const of = analysis.ledgerByPhase[first]
    if (second !== 'hours') return lineOf(figure, second, of, grounds, [first])
    return of ? { value: of.hours, unit: 'h', formula: 'time-in-phase', allSensors: true } : null
  }
  if (group !== 'meterSharesKWh' || !isShare(first)) return null
  const share = analysis.meterSharesKWh[first]
  if (!share) return null
  const formula: FormulaCode =
    first === 'idle'
      ? 'input-while-idle'
      : first === 'unaccounted'
        ? 'contradicted-input'
        : 'input-by-hydraulic-share'
  return {
    ...estimated(share, 'kWh', partsOf(grounds, figure)),
    formula,
    rulesOf: ['electricPower', 'shaftPower', ...SHARE_STREAMS[first]],
    kinds: first === 'idle' ? IDLE_KINDS : PHASE_KINDS.filter((kind) => !IDLE_KINDS.includes(kind)),
    exact: ['time'],
  }
}
