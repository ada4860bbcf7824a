import type { Standing } from '@/lib/contract/explanation'
import type { Ledger } from '@/lib/ledger/ledger'
import { at, modelWith, PARAMETERS, type Parameter, priorSd } from '@/lib/ledger/parameters'
import { COVERAGE } from '@/lib/ledger/propagate'
import type { MachineModel } from '@/lib/machine/machine-model'
import { M3_PER_CM3, M3S_PER_LPM, PA_PER_BAR, W_PER_KW } from '@/lib/units'

/** A parameter of the machine's models: what it was taken as, and what the log made of it. */
export interface ModelGround {
  readonly parameter: Parameter
  readonly source: 'nameplate' | 'default' | 'fitted'
  /** Field of the machine file that states it or would. */
  readonly field: string | null
  readonly standing: Standing
  readonly unit: string
  readonly value: number
  /** 95 % limit before the log was looked at. */
  readonly limit: number
  readonly found: number
  readonly limitAfter: number
}

interface Read {
  readonly field: string | null
  /** Whether the machine file states it. */
  readonly isStated: boolean
  readonly standing?: Standing
  readonly unit: string
  /** The parameter as a person knows it, read off the models or worked out from its own value. */
  of(model: MachineModel, value: number): number
}

/** How a model's parameter is read; offsets of sensors stand with the sensors, the relief's line below. */
function readersOf({ plate }: Ledger): Partial<Record<Parameter, Read>> {
  const { motor, pump } = plate
  const ratedPa = pump.ratedPressureBar * PA_PER_BAR
  const lossW = ({ motor: { ratedInputW, ratedShaftW } }: MachineModel) => ratedInputW - ratedShaftW
  return {
    displacement: {
      field: 'pump.displacementCm3',
      isStated: true,
      unit: 'cm³',
      of: (model) => (model.pump.displacementM3PerRad * 2 * Math.PI) / M3_PER_CM3,
    },
    leakage: {
      field: 'pump.volumetricEfficiency',
      isStated: true,
      unit: 'L/min',
      of: (model) => model.pump.leakageM3S(ratedPa) / M3S_PER_LPM,
    },
    lossTorque: {
      field: 'pump.overallEfficiency',
      isStated: true,
      unit: 'Nm',
      of: (model) => model.pump.lossTorqueNm(ratedPa),
    },
    constantShare: {
      field: null,
      isStated: false,
      unit: '1',
      of: (model) => model.pump.lossTorqueNm(0) / model.pump.lossTorqueNm(ratedPa),
    },
    reliefLeak: {
      field: null,
      isStated: false,
      unit: 'L/min',
      of: ({ relief }) => (relief.leakPerPa * relief.settingPa) / M3S_PER_LPM,
    },
    noLoadLossShare: {
      field: null,
      isStated: false,
      unit: '1',
      of: (model) => model.motor.noLoadInputW / lossW(model),
    },
    noLoadCurrent: {
      field: 'motor.noLoadCurrentA',
      isStated: motor.noLoadCurrentA !== undefined,
      standing: 'table',
      unit: 'A',
      of: (model) => model.motor.noLoadCurrentA,
    },
    form: { field: null, isStated: false, unit: '1', of: (_, value) => value },
    voltage: {
      field: 'motor.ratedVoltageV',
      isStated: true,
      unit: 'V',
      of: (_, value) => motor.ratedVoltageV * (1 + value),
    },
    ratedLoss: {
      field: 'motor.ratedEfficiency',
      isStated: motor.ratedEfficiency !== undefined,
      standing: 'table',
      unit: 'kW',
      of: (model) => lossW(model) / W_PER_KW,
    },
  }
}

/** The relief's line: found in the log where it was seen open, else from the nameplate and the valve's kind. */
function reliefGrounds({ plate, model, reliefLine, covariance }: Ledger, prior: Float64Array): ModelGround[] {
  const settingPa = plate.relief.settingBar * PA_PER_BAR
  const found = reliefLine?.curve ?? model.relief
  const usual = model.relief
  const ground = (
    parameter: 'reliefSetting' | 'reliefSpan',
    source: ModelGround['source'],
    valuePa: number,
    foundPa: number,
  ): ModelGround => {
    const k = at(parameter)
    return {
      parameter,
      source,
      field: parameter === 'reliefSetting' ? 'relief.settingBar' : null,
      standing: 'common-practice',
      unit: 'bar',
      value: valuePa / PA_PER_BAR,
      limit: (COVERAGE * prior[k]) / PA_PER_BAR,
      found: foundPa / PA_PER_BAR,
      limitAfter: (COVERAGE * Math.sqrt(covariance.get(k, k))) / PA_PER_BAR,
    }
  }
  const span = (curve: { settingPa: number; crackingPa: number }) => curve.settingPa - curve.crackingPa
  return [
    ground('reliefSetting', reliefLine ? 'fitted' : 'nameplate', settingPa, found.settingPa),
    ground('reliefSpan', reliefLine?.slopeSeen ? 'fitted' : 'default', span(usual), span(found)),
  ]
}

/** Every parameter of the models that is uncertain: nameplate, default or found, with its limits. */
export function modelGrounds(ledger: Ledger): ModelGround[] {
  const { machine, values, covariance } = ledger
  const prior = priorSd(ledger.sensors, ledger.plate)
  const nil = new Float64Array(PARAMETERS.length)
  const readers = Object.entries(readersOf(ledger)) as [Parameter, Read][]
  const ofModels = readers.flatMap(([parameter, { of, isStated, field, standing, unit }]): ModelGround[] => {
    const k = at(parameter)
    if (!(prior[k] > 0)) return []
    const readAt = (from: Float64Array, by: number) => {
      const moved = Float64Array.from(from)
      moved[k] += by
      return of(modelWith(machine, moved), moved[k])
    }
    const limitAt = (from: Float64Array, sd: number) =>
      Math.abs(readAt(from, COVERAGE * sd) - readAt(from, -COVERAGE * sd)) / 2
    return [
      {
        parameter,
        source: isStated ? 'nameplate' : 'default',
        field,
        standing: standing ?? 'common-practice',
        unit,
        value: readAt(nil, 0),
        limit: limitAt(nil, prior[k]),
        found: readAt(values, 0),
        limitAfter: limitAt(values, Math.sqrt(covariance.get(k, k))),
      },
    ]
  })
  return [...ofModels, ...reliefGrounds(ledger, prior)]
}
