import { z } from 'zod'
import { UNITS } from '@/lib/units'
import { givenLevelsSchema } from './levels'
import { coolingSchema } from './site'

export const QUANTITIES = [
  'pressure',
  'flow',
  'current',
  'voltage',
  'power',
  'power-factor',
  'speed',
  'temperature',
  'signal',
] as const
export type Quantity = (typeof QUANTITIES)[number]

export const LOCATIONS = [
  'pump-outlet',
  'load',
  'tank-line',
  'system-line',
  'relief-return',
  'case-drain',
  'motor-supply',
  'motor-shaft',
  'oil',
  'cycle-active',
  'idle',
  'solenoid',
] as const
export type Location = (typeof LOCATIONS)[number]

const positive = z.number().positive()
const share = z.number().gt(0).lte(1)

export const accuracySchema = z.union([
  z.object({ percentOfFullScale: z.number().nonnegative(), fullScale: positive }),
  z.object({ percentOfReading: z.number().nonnegative() }),
])

/** 95 % limit on one constant offset a log. Default: 1 % of full scale, or of the largest reading. */
export type Accuracy = z.infer<typeof accuracySchema>

/** What an auditor asks of a sensor: which one it was, who checked it when, and what it shows at rest. */
export const evidenceSchema = z.object({
  serialNumber: z.string().trim().min(1).max(80).optional(),
  certificateNumber: z.string().trim().min(1).max(80).optional(),
  /** Day of the calibration, as in 2026-03-31. */
  certificateDate: z.iso.date().optional(),
  /** Reading with nothing to measure, in the channel's unit. */
  zeroReading: z.number().optional(),
})
export type SensorEvidence = z.infer<typeof evidenceSchema>

/** A column of the log: what it measures, where, in which unit (of the value after `scale`). */
export const channelSchema = z.object({
  column: z.string().min(1),
  quantity: z.enum(QUANTITIES),
  location: z.enum(LOCATIONS).optional(),
  unit: z.enum(UNITS).optional(),
  scale: z
    .object({ from: z.tuple([z.number(), z.number()]), to: z.tuple([z.number(), z.number()]) })
    .optional(),
  accuracy: accuracySchema.optional(),
  /** Kept with each log as it was when that was imported. */
  evidence: evidenceSchema.optional(),
})
export type ChannelDeclaration = z.infer<typeof channelSchema>

export const EFFICIENCY_CLASSES = ['IE1', 'IE2', 'IE3', 'IE4'] as const
export type EfficiencyClass = (typeof EFFICIENCY_CLASSES)[number]

/** A frequency converter that already feeds the motor, and on which side of it power or current is measured. */
export const driveSchema = z.object({
  /** Default: the motor's rated output. */
  ratedPowerKW: positive.optional(),
  meter: z.enum(['before-drive', 'after-drive']).default('before-drive'),
})

const needs = (path: string, other: string) => ({ path: [path], message: `needs ${other}` })

/**
 * What the motor's plate says. Current, power factor and efficiency stand for each other; where one cannot be
 * had from the others a stated default stands in (lib/machine/motor-plate.ts).
 */
export const motorSchema = z
  .object({
    ratedPowerKW: positive,
    ratedVoltageV: positive,
    ratedCurrentA: positive.optional(),
    ratedPowerFactor: share.optional(),
    ratedEfficiency: share.optional(),
    /** Class of IEC 60034-30-1, for a plate without a rated efficiency. */
    efficiencyClass: z.enum(EFFICIENCY_CLASSES).optional(),
    efficiencyAt75: share.optional(),
    efficiencyAt50: share.optional(),
    powerFactorAt75: share.optional(),
    powerFactorAt50: share.optional(),
    ratedSpeedRpm: positive,
    poles: z.number().int().min(2).multipleOf(2),
    frequencyHz: positive,
    noLoadCurrentA: positive.optional(),
    drive: driveSchema.optional(),
  })
  .refine(
    ({ ratedCurrentA, noLoadCurrentA }) =>
      !ratedCurrentA || !noLoadCurrentA || noLoadCurrentA < ratedCurrentA,
    { path: ['noLoadCurrentA'], message: 'must be below ratedCurrentA' },
  )
  .refine(
    ({ ratedEfficiency, efficiencyAt75 }) => !efficiencyAt75 || ratedEfficiency,
    needs('efficiencyAt75', 'ratedEfficiency'),
  )
  .refine(
    ({ ratedEfficiency, efficiencyAt50 }) => !efficiencyAt50 || ratedEfficiency,
    needs('efficiencyAt50', 'ratedEfficiency'),
  )
  .refine(
    ({ ratedPowerFactor, powerFactorAt75 }) => !powerFactorAt75 || ratedPowerFactor,
    needs('powerFactorAt75', 'ratedPowerFactor'),
  )
  .refine(
    ({ ratedPowerFactor, powerFactorAt50 }) => !powerFactorAt50 || ratedPowerFactor,
    needs('powerFactorAt50', 'ratedPowerFactor'),
  )
/** A motor as declared: gaps are gaps. */
export type MotorDeclaration = z.infer<typeof motorSchema>
/** A motor whose rated point is complete. */
export type MotorNameplate = MotorDeclaration &
  Required<Pick<MotorDeclaration, 'ratedCurrentA' | 'ratedPowerFactor' | 'ratedEfficiency'>>
/** What the tables of motors ask for. */
export type MotorSize = Pick<MotorDeclaration, 'ratedPowerKW' | 'poles' | 'frequencyHz'>

export const pumpSchema = z.object({
  kind: z.enum(['fixed', 'pressure-compensated', 'load-sensing']),
  displacementCm3: positive,
  ratedPressureBar: positive,
  ratedSpeedRpm: positive,
  volumetricEfficiency: share,
  overallEfficiency: share,
})
export type PumpNameplate = z.infer<typeof pumpSchema>

export const reliefSchema = z.object({
  kind: z.enum(['pilot-operated', 'direct-acting']),
  settingBar: positive,
  ratedFlowLpm: positive,
})
export type ReliefNameplate = z.infer<typeof reliefSchema>

export const unloadingSchema = z.object({
  kind: z.enum(['none', 'vented-relief', 'open-centre']),
  pressureBar: z.number().nonnegative().optional(),
})

/** A pump beside the first, of its kind where it feeds the same line. */
const besidePumpSchema = pumpSchema.omit({ kind: true })
export type PumpRating = z.infer<typeof besidePumpSchema>

/** A further pump on the first motor's shaft. */
export const furtherPumpSchema = besidePumpSchema.extend({
  /** The line of the first pump, or a circuit of its own at a fixed pressure (pilot oil, a gear pump). */
  outlet: z
    .union([z.literal('common'), z.object({ pressureBar: z.number().nonnegative() })])
    .default('common'),
  /** Above this pressure of the common line its flow goes to tank at the unloading pressure. */
  unloadsAboveBar: positive.optional(),
})
export type FurtherPump = z.infer<typeof furtherPumpSchema>

/** Further sets of motor and pump on the same line and the same electric meter; without plates like the first. */
export const furtherSetSchema = z.object({
  motor: motorSchema.optional(),
  pump: besidePumpSchema.optional(),
  count: z.number().int().positive().default(1),
})
export type FurtherSet = z.infer<typeof furtherSetSchema>

/** Power factor of an auxiliary whose plate is not known (common practice, no source). */
export const DEFAULT_AUXILIARY_POWER_FACTOR = 0.8
/** 95 % limit of an auxiliary's declared power where none is given, as a share of it (common practice, no source). */
export const DEFAULT_AUXILIARY_ACCURACY_PERCENT = 10

/** A cooler, filter loop, heater or control behind the same electric meter as the motor: input, not shaft power. */
export const auxiliarySchema = z.object({
  name: z.string().min(1),
  powerKW: positive,
  accuracyPercent: z.number().nonnegative().default(DEFAULT_AUXILIARY_ACCURACY_PERCENT),
  when: z.enum(['always', 'motor-running']).default('always'),
  powerFactor: share.default(DEFAULT_AUXILIARY_POWER_FACTOR),
})
export type Auxiliary = z.infer<typeof auxiliarySchema>

/** What may hang on the pump's pressure beside the loads, and loses it where it is lowered. */
export const HANGS_ON_PRESSURE = ['pilot-supply', 'clamps', 'brakes', 'accumulators', 'other'] as const

/** What a person confirmed of the machine beyond what was logged, before any pressure is lowered. */
export const confirmedSchema = z.object({
  /** Highest pressure that any load asks for: cold start, jam, largest tool. */
  highestLoadBar: positive,
  by: z.string().min(1),
  /** The day, as in 2026-03-31. */
  on: z.iso.date(),
  /** What else hangs on that pressure; empty where a person looked and found nothing. */
  hangsOnPressure: z.array(z.enum(HANGS_ON_PRESSURE)).default([]),
  note: z.string().optional(),
})

/** Without a dead-head level given, the unloaded pump still lies below what the relief is set to. */
const unloadedBelowSetting = ({
  relief,
  levels,
}: {
  relief: ReliefNameplate
  levels?: z.infer<typeof givenLevelsSchema>
}) =>
  levels?.unloadedBelowBar === undefined ||
  levels.deadHeadBar !== undefined ||
  levels.unloadedBelowBar < relief.settingBar

/** MACHINE.json, version 1. */
export const machineSchema = z
  .object({
    version: z.literal(1),
    name: z.string().min(1),
    motor: motorSchema,
    pump: pumpSchema,
    relief: reliefSchema,
    unloading: unloadingSchema.default({ kind: 'none' }),
    longestHoldS: positive.optional(),
    levels: givenLevelsSchema.optional(),
    furtherPumps: z.array(furtherPumpSchema).optional(),
    furtherSets: z.array(furtherSetSchema).optional(),
    auxiliaries: z.array(auxiliarySchema).optional(),
    /** What cools this machine's oil; left out: what the site says. */
    cooling: coolingSchema.optional(),
    confirmed: confirmedSchema.optional(),
    channels: z.array(channelSchema).optional(),
  })
  .refine(unloadedBelowSetting, {
    path: ['levels', 'unloadedBelowBar'],
    message: 'must be below settingBar',
  })
export type Machine = z.infer<typeof machineSchema>
