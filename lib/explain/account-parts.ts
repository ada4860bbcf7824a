import { type Analysis, type LedgerKWh, PHASE_KINDS, type PhaseKind, STREAMS } from '@/lib/contract/result'
import { IDLE_KINDS } from '@/lib/ledger/idle'
import type { Ledger } from '@/lib/ledger/ledger'
import { kindIndex, SHARE_KEYS, shareIndex } from '@/lib/ledger/totals'
import { J_PER_KWH } from '@/lib/units'
import { closedParts, evenPart, type Part, partsOfSum, reachOfParts, scaledParts } from './parts'

const ACCOUNT: readonly (keyof LedgerKWh)[] = ['electricIn', ...STREAMS]

/** Parts of the intervals of every line of the account, in kWh, by the figure's path. */
export function accountParts(ledger: Ledger, analysis: Analysis): Record<string, Part[]> {
  const parts: Record<string, Part[]> = {}
  const partsOf = (indexes: readonly number[]) =>
    scaledParts(partsOfSum(ledger.sensitivity, new Map(indexes.map((index) => [index, 1]))), 1 / J_PER_KWH)
  const ofKinds = (kinds: readonly PhaseKind[], key: keyof LedgerKWh) =>
    partsOf(kinds.map((kind) => kindIndex(kind, key)))
  for (const key of ACCOUNT) {
    const line = analysis.ledgerKWh[key]
    if (!line) continue
    parts[`ledgerKWh.${key}`] = closedParts(ofKinds(PHASE_KINDS, key), line, 'rest')
    for (const kind of PHASE_KINDS) {
      const inKind = analysis.ledgerByPhase[kind]?.[key]
      if (inKind) parts[`ledgerByPhase.${kind}.${key}`] = closedParts(ofKinds([kind], key), inKind, 'rest')
    }
  }
  for (const key of SHARE_KEYS) {
    const line = analysis.meterSharesKWh[key]
    if (line) parts[`meterSharesKWh.${key}`] = closedParts(partsOf([shareIndex(key)]), line, 'rest')
  }
  const idle = analysis.idle.electricKWh
  parts['idle.electricKWh'] = closedParts(ofKinds(IDLE_KINDS, 'electricIn'), idle, 'rest')
  const { kWhPerCycle } = analysis.cycles
  if (kWhPerCycle)
    parts['cycles.kWhPerCycle'] = cycleParts(parts['ledgerKWh.electricIn'], analysis, kWhPerCycle)
  return parts
}

/** What the sensors and models contribute to the whole input, in the same share; the remainder is the cycles' own spread. */
function cycleParts(
  ofInput: readonly Part[],
  { ledgerKWh }: Analysis,
  kWhPerCycle: NonNullable<Analysis['cycles']['kWhPerCycle']>,
): Part[] {
  const whole = ledgerKWh.electricIn.value
  const upper = ofInput.map((part) => ({ ...part, below: part.above }))
  const systematic = whole > 0 ? scaledParts(upper, kWhPerCycle.value / whole) : []
  const { above } = reachOfParts(systematic)
  const half = kWhPerCycle.high - kWhPerCycle.value
  const spread = Math.sqrt(Math.max(0, half ** 2 - above ** 2))
  return closedParts([...systematic, evenPart('cycle-spread', spread)], kWhPerCycle, 'rest')
}
