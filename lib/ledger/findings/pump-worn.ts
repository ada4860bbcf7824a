import type { Finding } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { PA_PER_BAR } from '@/lib/units'
import type { Ledger } from '../ledger'
import { spreadOf } from '../parameter-spread'
import { modelWith } from '../parameters'
import { COVERAGE } from '../propagate'
import { countsReliefLeak, lostM3S, volumetricEfficiencies } from '../pump-wear'
import { evidenceIn, priced, sumOf, type YearCost } from './finding'

/**
 * A pump that loses half as much again as its nameplate may only have thin oil or be a poor copy; beyond that it
 * is worn (common practice, no source).
 */
const MARGIN_SHARE = 0.5

/** A pump whose whole interval of volumetric efficiency lies below the nameplate's by the margin. */
export function pumpWorn(ledger: Ledger, year: YearCost): Finding | null {
  const { machine, model, values, segmentation } = ledger
  const seen = volumetricEfficiencies(ledger).at(-1)
  if (!seen) return null
  const limit = 1 - (1 + MARGIN_SHARE) * (1 - seen.nameplate)
  if (seen.seen.high >= limit) return null
  const plate = modelWith(machine, new Float64Array(values.length))
  const running = segmentation.steps.filter(
    ({ kind }) => kind.startsWith('work-') || kind.startsWith('idle-'),
  )
  // Pressure times seconds of leakage above the plate's, with other parameters put in.
  const lineAlone = countsReliefLeak(ledger)
  const lostJ = (at: MachineModel) =>
    running.reduce((sum, { means, durationS }) => {
      const pa = means.pumpPressurePa
      return pa > 0 ? sum + durationS * pa * (lostM3S(at, lineAlone, pa) - plate.pump.leakageM3S(pa)) : sum
    }, 0)
  const hydraulicJ = lostJ(model)
  const [sdJ] = spreadOf(ledger, (moved) => [lostJ(modelWith(machine, moved))])
  const electricJ = sumOf(ledger, 'electricIn')
  const perShaft = electricJ / (electricJ - sumOf(ledger, 'motorLoss'))
  return {
    code: 'pump-worn',
    values: {
      efficiency: seen.seen.value,
      efficiencyLow: seen.seen.low,
      efficiencyHigh: seen.seen.high,
      nameplateEfficiency: seen.nameplate,
      pressureBar: machine.pump.ratedPressureBar,
      leakageShareOfNameplate: lostM3S(model, lineAlone, PA_PER_BAR) / plate.pump.leakageM3S(PA_PER_BAR),
    },
    evidence: evidenceIn(
      ledger,
      segmentation.steps.filter(({ kind }) => kind === 'work-moving'),
      ({ means }) => means.pumpPressurePa,
    ),
    checks: [...(lineAlone ? ['line-meter-cannot-tell'] : []), 'case-drain', 'oil-temperature', 'speed'].map(
      (code) => ({ code, values: {} }),
    ),
    ...priced(hydraulicJ * perShaft, Math.min(sdJ / hydraulicJ, 1 / COVERAGE), year),
  }
}
