import { z } from 'zod'
import { estimateSchema } from './estimate'
import { levelsSchema } from './levels'
import { channelSchema } from './machine'
import { combinationSchema, marginalCostCurveSchema, optionShape } from './option-result'
import { siteSchema } from './site'

export { OPTION_IDS, type OptionId } from './option-result'

export const PHASE_KINDS = [
  'stopped',
  'starting',
  'idle-unloaded',
  'idle-loaded',
  'work-moving',
  'work-metering',
  'work-holding',
] as const
export type PhaseKind = (typeof PHASE_KINDS)[number]

export const PHASE_CLASSES = ['off', 'idle', 'work'] as const
export type PhaseClass = (typeof PHASE_CLASSES)[number]

/** Where the electric input ends up. `intoSystem` = `metering` + `work` where those can be told apart. */
export const STREAMS = [
  'motorLoss',
  'pumpLoss',
  'overRelief',
  'unloading',
  'intoSystem',
  'metering',
  'work',
  'unaccounted',
] as const
export type Stream = (typeof STREAMS)[number]

const finite = z.number()
const codeValues = z.record(z.string(), z.union([z.string(), z.number(), z.null()]))

/** A statement as a code and the values its sentence needs; the edge adds the sentence. */
export const noteSchema = z.object({ code: z.string(), values: codeValues.default({}) })
export type Note = z.infer<typeof noteSchema>
const wordedNote = noteSchema.extend({ message: z.string() })

export const problemSchema = noteSchema.extend({
  /** 1-based line in the file of the first example, null where the problem belongs to no line. */
  line: z.number().int().nullable(),
  column: z.string().nullable(),
  count: z.number().int().nonnegative(),
  /** The first few, with the cell as the file has it; null for an empty one. */
  examples: z.array(z.object({ line: z.number().int(), cell: z.string().nullable() })).optional(),
})
export type ProblemExample = NonNullable<z.infer<typeof problemSchema>['examples']>[number]
export type Problem = z.infer<typeof problemSchema>

const stretchSchema = z.object({ startS: finite, endS: finite })

/** A finding: what it is, how sure, where the log shows it, what it costs and what to look at on the machine. */
function findingShape<Said extends z.ZodType>(said: Said) {
  return z.object({
    /** Electricity that it took in the log. */
    kWhInLog: estimateSchema,
    costPerYear: estimateSchema,
    /** Time in all that shows it, the first stretch and the one that shows it most. */
    evidence: z.object({
      seconds: finite,
      first: stretchSchema.nullable(),
      worst: stretchSchema.nullable(),
    }),
    checks: z.array(said),
  })
}
const findingSchema = noteSchema.extend(findingShape(noteSchema).shape)
export type Finding = z.infer<typeof findingSchema>

/** The pump as the log shows it. */
const pumpHealthSchema = z.object({
  /** Seen against the nameplate; empty where no flow meter sees what the pump gives. */
  volumetricEfficiency: z.array(z.object({ pressureBar: finite, seen: estimateSchema, nameplate: finite })),
  /** Hydraulic energy out over shaft energy in, where the pump ran in the pressure–flow plane. */
  efficiencyPlane: z.array(
    z.object({
      fromBar: finite,
      toBar: finite,
      fromLpm: finite,
      toLpm: finite,
      hours: finite,
      shaftKWh: finite,
      hydraulicKWh: finite,
      efficiency: estimateSchema,
    }),
  ),
})

const phaseSchema = z.object({
  kind: z.enum(PHASE_KINDS),
  startS: finite,
  endS: finite,
  /** Where a person's correction reaches into it, even if it only confirms the kind. */
  corrected: z.literal(true).optional(),
})
export type Phase = z.infer<typeof phaseSchema>

/** A person's correction as it came to act. */
const appliedCorrectionSchema = z.object({
  startS: finite,
  endS: finite,
  kind: z.enum(PHASE_KINDS),
  /** Seconds of each kind that the analysis by itself finds there; gaps do not count. */
  foundS: z.record(z.string(), finite),
  /** Seconds on which no later correction has the last word. */
  inForceS: finite,
})
export type AppliedCorrection = z.infer<typeof appliedCorrectionSchema>

const ledgerSchema = z.object({
  electricIn: estimateSchema,
  motorLoss: estimateSchema,
  pumpLoss: estimateSchema,
  overRelief: estimateSchema,
  unloading: estimateSchema,
  intoSystem: estimateSchema,
  metering: estimateSchema.nullable(),
  work: estimateSchema.nullable(),
  unaccounted: estimateSchema,
})
export type LedgerKWh = z.infer<typeof ledgerSchema>

/** The parts of a result, with statements as `Said` (code and values, or code, values and sentence). */
function resultShape<Said extends z.ZodType, SaidProblem extends z.ZodType, SaidFinding extends z.ZodType>(
  said: Said,
  saidProblem: SaidProblem,
  saidFinding: SaidFinding,
) {
  return z.object({
    version: z.literal(1),
    machine: z.object({ name: z.string() }),
    site: siteSchema,
    log: z.object({
      rowsRead: z.number().int(),
      rowsUsed: z.number().int(),
      rowsRejected: z.number().int(),
      startedAt: z.string().nullable(),
      endedAt: z.string().nullable(),
      durationS: finite,
      sampleIntervalS: finite,
      gaps: z.array(z.object({ startS: finite, endS: finite })),
      channels: z.array(channelSchema),
      /** What each sensor was found to read at rest, in its own unit; taken off before anything was computed. */
      offsets: z.array(z.object({ column: z.string(), offset: finite })),
      problems: z.array(saidProblem),
    }),
    phases: z.array(phaseSchema),
    /** In the order they were made: where two overlap, the later wins. */
    corrections: z.array(appliedCorrectionSchema),
    /** What tells the kinds of phases apart: found in the log, or given in the machine file instead. */
    levels: levelsSchema,
    cycles: z.object({
      count: z.number().int(),
      meanS: finite.nullable(),
      spreadS: finite.nullable(),
      kWhPerCycle: estimateSchema.nullable(),
    }),
    ledgerKWh: ledgerSchema,
    ledgerByPhase: z.record(z.string(), ledgerSchema.extend({ hours: finite })),
    meterSharesKWh: z.object({
      idle: estimateSchema,
      overRelief: estimateSchema,
      metering: estimateSchema.nullable(),
      work: estimateSchema,
      unaccounted: estimateSchema,
    }),
    /** Declared auxiliaries on the motor's feeder: measured with it, not a part of `electricIn`; null where none is declared. */
    auxiliariesKWh: estimateSchema.nullable(),
    /** Hydraulic energy of pumps with circuits of their own, a part of `intoSystem` (and `metering`); null without such a pump. */
    ownCircuitsKWh: estimateSchema.nullable(),
    /** Streams that the fitted sensors cannot separate, and the sensor that would. */
    notSeparable: z.array(z.object({ stream: z.string(), sensor: z.string() })),
    idle: z.object({
      hours: finite,
      electricKWh: estimateSchema,
      costPerYear: estimateSchema,
      byLongestHoldS: z.record(z.string(), finite),
    }),
    reliefFit: z
      .object({
        crackingBar: estimateSchema,
        settingBar: estimateSchema,
        /** Usual pressure of a measured tank line; cracking and setting are without it. */
        backPressureBar: finite.optional(),
        overrideBarPerLpm: estimateSchema,
        findings: z.array(saidFinding),
      })
      .nullable(),
    /** All that was found on the machine: the relief's findings and those beyond it. */
    findings: z.array(saidFinding),
    pumpHealth: pumpHealthSchema,
    model: z.object({
      nmbe: finite.nullable(),
      cvRmse: finite.nullable(),
      averagingIntervalS: finite,
      /** True where the logged input is measured power; else two models are compared. */
      againstMeasuredPower: z.boolean(),
      trusted: z.boolean(),
    }),
    options: z.array(optionShape(said)),
    ranking: z.enum(['net-present-value', 'energy']),
    combinations: z.array(combinationSchema),
    /** Best set of one option or more whose likely investments stay within the budget; null without a budget or a set. */
    bestUnderBudget: combinationSchema.nullable(),
    marginalCostCurve: marginalCostCurveSchema,
  })
}

/** What `lib` computes: codes and values, no sentences. */
export const analysisSchema = resultShape(noteSchema, problemSchema, findingSchema)
export type Analysis = z.infer<typeof analysisSchema>
export type OptionResult = Analysis['options'][number]

/** What the command prints and the HTTP API answers: the analysis with a sentence beside every code. */
export const resultSchema = resultShape(
  wordedNote,
  problemSchema.extend({ message: z.string() }),
  wordedNote.extend(findingShape(wordedNote).shape),
)
export type Result = z.infer<typeof resultSchema>
