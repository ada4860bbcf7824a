import type { PhaseKind } from '@/lib/contract/result'
import { curveWith, type Ledger } from '@/lib/ledger/ledger'
import { at, modelWith, type ParameterValues } from '@/lib/ledger/parameters'
import { corrected } from '@/lib/ledger/readings'
import { loadShares, stepFrame } from '@/lib/ledger/step-frame'
import { S_PER_HOUR } from '@/lib/units'
import { flowTermsAt } from './flow-terms'
import { type GroundRule, signature } from './merged-rules'
import type { Moment, Terms } from './moment'
import { powerTermsAt } from './power-terms'
import type { SymbolCode } from './symbols'

const MOVED_DISPLACEMENT = 1e-3
const MOVED_SETTING_SHARE = 1e-3
const MOVED_LEAK = 1e-3

function moved(
  ledger: Ledger,
  name: 'displacement' | 'reliefSetting' | 'reliefLeak',
  by: number,
): ParameterValues {
  const values = Float64Array.from(ledger.values)
  values[at(name)] += by
  return values
}

interface Collected {
  readonly symbol: SymbolCode
  readonly kind: PhaseKind
  seconds: number
  readonly coefficients: Map<string, number>
  readonly sums: Map<SymbolCode, number>
}

const addTo = <Key>(sums: Map<Key, number>, key: Key, value: number) =>
  sums.set(key, (sums.get(key) ?? 0) + value)

function collect(rules: Map<string, Collected>, of: Terms, kind: PhaseKind, seconds: number): void {
  const key = `${kind} ${signature(of)}`
  const rule = rules.get(key) ?? {
    symbol: of.symbol,
    kind,
    seconds: 0,
    coefficients: new Map(),
    sums: new Map(),
  }
  rules.set(key, rule)
  rule.seconds += seconds
  for (const { symbol, coefficient } of of.terms) addTo(rule.coefficients, symbol, seconds * coefficient)
  for (const [symbol, value] of Object.entries(of.values) as [SymbolCode, number][]) {
    addTo(rule.sums, symbol, seconds * value)
  }
}

const COEFFICIENT_DIGITS = 2

/**
 * The rules by which flows and powers were reached, kind by kind, found by asking the account itself: every reading
 * and every model is moved a little, and what answers is in the rule. So a rule is what the code does, not what is
 * said of it.
 */
export function groundRules(ledger: Ledger): GroundRule[] {
  const { model, curve, values, currentLimitA, segmentation, machine } = ledger
  const { steps } = segmentation
  const shares = loadShares(steps, values)
  const movedModel = modelWith(machine, moved(ledger, 'displacement', MOVED_DISPLACEMENT))
  const settingMoved = moved(ledger, 'reliefSetting', MOVED_SETTING_SHARE * curve.settingPa)
  const movedCurve = curveWith(curve, settingMoved, values)
  const movedLeak = curveWith(curve, moved(ledger, 'reliefLeak', MOVED_LEAK), values)
  const rules = new Map<string, Collected>()
  for (const step of ledger.alike) {
    if (!(step.durationS > 0)) continue
    const read = corrected(step.means, values)
    const frame = stepFrame(step, read, shares, model, curve, currentLimitA)
    const moment: Moment = { read, kind: step.kind, model, curve, frame, movedModel, movedCurve, movedLeak }
    for (const of of [...flowTermsAt(moment), ...powerTermsAt(moment)]) {
      collect(rules, of, step.kind, step.durationS)
    }
  }
  return [...rules.values()]
    .sort((a, b) => b.seconds - a.seconds)
    .map(({ symbol, kind, seconds, coefficients, sums }) => ({
      symbol,
      kinds: [kind],
      hours: seconds / S_PER_HOUR,
      terms: [...coefficients].map(([term, sum]) => ({
        coefficient: Number((sum / seconds).toFixed(COEFFICIENT_DIGITS)),
        symbol: term,
      })),
      means: Object.fromEntries([...sums].map(([name, sum]) => [name, sum / seconds])),
    }))
}
