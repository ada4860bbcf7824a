import { z } from 'zod'
import { UNITS } from '@/lib/units'

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
})
export type ChannelDeclaration = z.infer<typeof channelSchema>

export const motorSchema = z.object({
  ratedPowerKW: positive,
  ratedVoltageV: positive,
  ratedCurrentA: positive,
  ratedPowerFactor: share,
  ratedEfficiency: share,
  ratedSpeedRpm: positive,
  poles: z.number().int().min(2).multipleOf(2),
  frequencyHz: positive,
  noLoadCurrentA: positive.optional(),
})
export type MotorNameplate = z.infer<typeof motorSchema>

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

/** MACHINE.json, version 1. */
export const machineSchema = z.object({
  version: z.literal(1),
  name: z.string().min(1),
  motor: motorSchema,
  pump: pumpSchema,
  relief: reliefSchema,
  unloading: unloadingSchema.default({ kind: 'none' }),
  longestHoldS: positive.optional(),
  channels: z.array(channelSchema).optional(),
})
export type Machine = z.infer<typeof machineSchema>
