import { z } from 'zod'

/** Levels that tell the kinds of phases apart, each found in the log and open to a person's correction. */
export const LEVEL_NAMES = [
  'runningPowerKW',
  'runningCurrentA',
  'unloadedBelowBar',
  'standbyBelowBar',
  'reliefOpensBar',
  'deadHeadFromBar',
  'deadHeadBar',
  'noFlowShare',
  'fullFlowShare',
] as const
export type LevelName = (typeof LEVEL_NAMES)[number]

const positive = z.number().positive()
const share = z.number().gt(0).lte(1)

type Rule = [holds: (levels: Partial<Record<LevelName, number>>) => boolean, otherwise: Refusal]
interface Refusal {
  path: PropertyKey[]
  message: string
}

/** Says that the first of two levels, where both are given, must lie below the second. */
function below(lower: LevelName, upper: LevelName): Rule {
  const inOrder = (levels: Partial<Record<LevelName, number>>) =>
    !((levels[lower] ?? Number.NaN) >= (levels[upper] ?? Number.NaN))
  return [inOrder, { path: [lower], message: `must be below ${upper}` }]
}

/** MACHINE.json's optional block `levels`: what a person says instead of what the log shows. Nobody needs it. */
export const givenLevelsSchema = z
  .object({
    /** Electric input above which the motor turns. */
    runningPowerKW: positive.optional(),
    /** The same where current alone is logged. */
    runningCurrentA: positive.optional(),
    /** Pump pressure below which the pump is unloaded. */
    unloadedBelowBar: positive.optional(),
    /** Pump pressure below which a load-sensing pump stands by. */
    standbyBelowBar: positive.optional(),
    /** Pump pressure from which the relief may be open. */
    reliefOpensBar: positive.optional(),
    /** Pump pressure from which, where no flow tells, the whole flow passes the relief. */
    deadHeadFromBar: positive.optional(),
    /** Pump pressure with the whole flow over the relief. */
    deadHeadBar: positive.optional(),
    /** Below this share of the pump's flow into the system, no actuator moves. */
    noFlowShare: share.optional(),
    /** Above this share, all of it goes there. */
    fullFlowShare: share.optional(),
  } satisfies Record<LevelName, z.ZodType>)
  .refine(...below('unloadedBelowBar', 'reliefOpensBar'))
  .refine(...below('unloadedBelowBar', 'deadHeadFromBar'))
  .refine(...below('unloadedBelowBar', 'deadHeadBar'))
  .refine(...below('standbyBelowBar', 'deadHeadBar'))
  .refine(...below('reliefOpensBar', 'deadHeadBar'))
  .refine(...below('noFlowShare', 'fullFlowShare'))
  .refine(({ deadHeadFromBar: from, deadHeadBar: whole }) => !from || !whole || from <= whole, {
    path: ['deadHeadFromBar'],
    message: 'must not exceed deadHeadBar',
  })
export type GivenLevels = z.infer<typeof givenLevelsSchema>

const levelSchema = z.object({
  /** What the analysis finds by itself, in the unit of the name; null where such a machine or log has no such level. */
  found: z.number().nullable(),
  /** Where that comes from: the log's own readings; where it does not tell, the machine's data or what is usual. */
  foundFrom: z.enum(['log', 'machine', 'usual']),
  /** What the machine file says instead; null where it says nothing. */
  given: z.number().nullable(),
  /** Whether it tells phases apart in this log: a current does not where power is logged. */
  decides: z.boolean(),
})
export type Level = z.infer<typeof levelSchema>

export const levelsSchema = z.object({
  runningPowerKW: levelSchema,
  runningCurrentA: levelSchema,
  unloadedBelowBar: levelSchema,
  standbyBelowBar: levelSchema,
  reliefOpensBar: levelSchema,
  deadHeadFromBar: levelSchema,
  deadHeadBar: levelSchema,
  noFlowShare: levelSchema,
  fullFlowShare: levelSchema,
} satisfies Record<LevelName, z.ZodType>)
export type ReportedLevels = z.infer<typeof levelsSchema>
