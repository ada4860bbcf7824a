import type { Estimate } from '@/lib/contract/estimate'
import { PHASE_KINDS } from '@/lib/contract/result'
import type { StretchMeans } from '@/lib/phases/stretch'
import { J_PER_KWH, M3S_PER_LPM, PA_PER_BAR, S_PER_HOUR } from '@/lib/units'
import type { AlikeSteps } from './alike-steps'
import { basisOf, estimate } from './estimates'
import { curveWith, type Ledger } from './ledger'
import { nodeFlows, type Streams } from './operating-point'
import { spreadOf } from './parameter-spread'
import { modelWith, type ParameterValues } from './parameters'
import { corrected } from './readings'
import { kindIndex, totalsOfAlike } from './totals'

/** One field of the pressure–flow plane, with what the pump took and gave there. */
export interface PumpField {
  readonly fromBar: number
  readonly toBar: number
  readonly fromLpm: number
  readonly toLpm: number
  readonly hours: number
  readonly shaftKWh: number
  readonly hydraulicKWh: number
  /** Hydraulic energy out over shaft energy in. */
  readonly efficiency: Estimate
}

/** Bands of pressure up to the relief's setting, and of flow up to the pump's rated flow; beyond it the last one. */
const PRESSURE_BANDS = 5
const FLOW_BANDS = 4

interface Field {
  readonly pressureBand: number
  readonly flowBand: number
  readonly durationS: number
  readonly groups: readonly AlikeSteps[]
}

/** Groups of one kind joined into one by their weighted means. */
function joined(groups: readonly AlikeSteps[]): AlikeSteps {
  const durationS = groups.reduce((sum, group) => sum + group.durationS, 0)
  const names = Object.keys(groups[0].means) as (keyof StretchMeans)[]
  const mean = (name: keyof StretchMeans) =>
    groups.reduce((sum, group) => sum + group.durationS * group.means[name], 0) / durationS
  return {
    ...groups[0],
    durationS,
    means: Object.fromEntries(names.map((name) => [name, mean(name)])) as unknown as StretchMeans,
  }
}

function fieldsOf(ledger: Ledger): Field[] {
  const { model, values, curve, alike } = ledger
  const band = (value: number, whole: number, bands: number) =>
    Math.min(bands - 1, Math.max(0, Math.floor((value / whole) * bands)))
  const fields = new Map<
    string,
    { pressureBand: number; flowBand: number; kinds: Map<string, AlikeSteps[]> }
  >()
  for (const group of alike) {
    if (!group.isSteady || group.kind === 'stopped' || group.kind === 'starting') continue
    const read = corrected(group.means, values)
    const { pump } = nodeFlows(read, group.kind, model, curve, read.pumpPressurePa)
    if (Number.isNaN(read.pumpPressurePa) || Number.isNaN(pump)) continue
    const pressureBand = band(read.pumpPressurePa, model.relief.settingPa, PRESSURE_BANDS)
    const flowBand = band(pump, model.pump.ratedFlowM3S, FLOW_BANDS)
    const key = `${pressureBand} ${flowBand}`
    const field = fields.get(key) ?? { pressureBand, flowBand, kinds: new Map() }
    fields.set(key, field)
    // Readings of pumps in different states have no mean.
    const alike = `${group.kind} ${group.means.pumpState}`
    field.kinds.set(alike, [...(field.kinds.get(alike) ?? []), group])
  }
  return [...fields.values()]
    .map(({ pressureBand, flowBand, kinds }) => {
      const groups = [...kinds.values()].map(joined)
      const durationS = groups.reduce((sum, group) => sum + group.durationS, 0)
      return { pressureBand, flowBand, durationS, groups }
    })
    .sort((a, b) => a.pressureBand - b.pressureBand || a.flowBand - b.flowBand)
}

/** Shaft and hydraulic energy of each field with parameter values put in, J. */
function energiesOf(ledger: Ledger, fields: readonly Field[], values: ParameterValues) {
  const model = modelWith(ledger.machine, values)
  const curve = curveWith(ledger.curve, values, ledger.values)
  return fields.map(({ groups }) => {
    const totals = totalsOfAlike(groups, model, curve, values, ledger.currentLimitA)
    const sum = (key: keyof Streams) =>
      PHASE_KINDS.reduce((all, kind) => all + totals[kindIndex(kind, key)], 0)
    return {
      shaftJ: sum('electricIn') - sum('motorLoss'),
      hydraulicJ: sum('overRelief') + sum('unloading') + sum('intoSystem'),
    }
  })
}

/**
 * Overall efficiency of the pump where it ran in the pressure–flow plane: hydraulic power over the shaft power
 * that the motor's model gives (domain rule), over steady steps. Fields in which it never ran are left out.
 */
export function pumpEfficiencyPlane(ledger: Ledger): PumpField[] {
  const fields = fieldsOf(ledger)
  const here = energiesOf(ledger, fields, ledger.values)
  const ratios = (energies: typeof here) => energies.map(({ shaftJ, hydraulicJ }) => hydraulicJ / shaftJ)
  const sds = spreadOf(ledger, (values) => ratios(energiesOf(ledger, fields, values)))
  const basis = basisOf(ledger, 'pumpLoss')
  const { relief, pump } = ledger.model
  const barOf = (band: number) => (band * relief.settingPa) / PRESSURE_BANDS / PA_PER_BAR
  const lpmOf = (band: number) => (band * pump.ratedFlowM3S) / FLOW_BANDS / M3S_PER_LPM
  return fields.map(({ pressureBand, flowBand, durationS }, k) => ({
    fromBar: barOf(pressureBand),
    toBar: barOf(pressureBand + 1),
    fromLpm: lpmOf(flowBand),
    toLpm: lpmOf(flowBand + 1),
    hours: durationS / S_PER_HOUR,
    shaftKWh: here[k].shaftJ / J_PER_KWH,
    hydraulicKWh: here[k].hydraulicJ / J_PER_KWH,
    efficiency: estimate(here[k].hydraulicJ / here[k].shaftJ, sds[k], basis),
  }))
}
