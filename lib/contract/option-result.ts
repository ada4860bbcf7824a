import { z } from 'zod'
import { estimateSchema } from './estimate'

export const OPTION_IDS = [
  'vent-relief-at-idle',
  'open-centre-unloading',
  'second-relief-setting',
  'lower-relief-setting',
  'high-low-pumps',
  'pressure-compensated-pump',
  'load-sensing-pump',
  'variable-speed-drive',
  'accumulator-charging',
  'stop-motor-at-idle',
  'smaller-pump',
  'restore-pump',
  'replace-relief-valve',
  'efficient-motor',
] as const
export type OptionId = (typeof OPTION_IDS)[number]

/** What a net present value hangs on. */
export const ASSUMPTIONS = [
  'price',
  'hours',
  'saving',
  'investment',
  'maintenance',
  'discount-rate',
  'life',
] as const
export type Assumption = (typeof ASSUMPTIONS)[number]

const finite = z.number()

const swingSchema = z.object({
  assumption: z.enum(ASSUMPTIONS),
  /** The lower net present value with this assumption alone at an end of its 95 % interval. */
  low: finite,
  /** The higher one, at its other end. */
  high: finite,
  /** What the assumption is where the net present value is low. */
  lowAt: finite,
  /** What it is where the net present value is high. */
  highAt: finite,
  /** Whether another option then has the highest net present value. */
  changesFirst: z.boolean(),
})

const triedSchema = z.object({
  /** Name of the setting, as in `settings`. */
  setting: z.string(),
  /** In the unit that the name ends with. */
  value: finite,
  /** Saved share by the models with this value, the option's other settings at their best. */
  savedShare: finite,
  /** Whether the machine could work with it. */
  feasible: z.boolean(),
})

/** One step of a set: what is added to the options already done. */
const setStepSchema = z.object({
  option: z.enum(OPTION_IDS),
  savedKWhPerYear: estimateSchema,
  investment: estimateSchema,
  netPresentValue: estimateSchema,
})

export const combinationSchema = z.object({
  options: z.array(z.enum(OPTION_IDS)),
  savedKWhPerYear: estimateSchema,
  netPresentValue: estimateSchema.nullable(),
  order: z.array(z.enum(OPTION_IDS)),
  /** Investments of all its options together. */
  investment: estimateSchema,
  /** In the order of doing them; savings and net present values add up to those of the set. */
  steps: z.array(setStepSchema),
})
export type Combination = z.infer<typeof combinationSchema>

/** Steps of the set that is best to do, with what each kWh that they add costs. */
export const marginalCostCurveSchema = z.array(
  z.object({
    option: z.enum(OPTION_IDS),
    /** Energy that this step adds, cooling included, kWh/yr. */
    savedKWhPerYear: finite,
    /** Cost of a kWh that this step adds; null if it adds none. */
    costPerSavedKWh: finite.nullable(),
  }),
)

/** An option's row, with statements as `Said`. */
export function optionShape<Said extends z.ZodType>(said: Said) {
  return z.object({
    id: z.enum(OPTION_IDS),
    feasible: z.boolean(),
    /** False where a sensor needed to judge the option is missing. */
    judged: z.boolean(),
    reasons: z.array(said),
    settings: z.record(z.string(), z.union([z.number(), z.string(), z.null()])),
    /** How flat the best is: what was tried along each setting that is searched, in rising order; else empty. */
    searched: z.array(triedSchema),
    savedShare: estimateSchema.nullable(),
    savedKWhInLog: estimateSchema.nullable(),
    savedKWhPerYear: estimateSchema.nullable(),
    /** Electricity that cooling the oil no longer takes, kWh/yr; 0 where it is not powered. */
    savedCoolingKWhPerYear: estimateSchema.nullable(),
    /** Price of the energy saved a year, with the electricity of cooling. */
    savedCostPerYear: estimateSchema.nullable(),
    /** Demand charge saved a year; 0 where the tariff has none, null where the log covers no window of it. */
    savedDemandCostPerYear: estimateSchema.nullable(),
    savedKgCO2PerYear: estimateSchema.nullable(),
    lessHeatKW: estimateSchema.nullable(),
    cycleTimeChangeShare: finite.nullable(),
    investment: estimateSchema.nullable(),
    /** True where the investment is a shipped placeholder and not the site's own figure. */
    investmentIsPlaceholder: z.boolean(),
    /** More upkeep a year than now, from the site; negative where it gets less. */
    maintenanceCostPerYear: estimateSchema.nullable(),
    /** Energy and demand charge saved a year, less upkeep: what the investment is held against. */
    savedMoneyPerYear: estimateSchema.nullable(),
    netPresentValue: estimateSchema.nullable(),
    paybackYears: estimateSchema.nullable(),
    /** Payback with interest; null where it has no upper end. */
    discountedPaybackYears: estimateSchema.nullable(),
    /** Investment a year (capital recovery factor) and upkeep, per kWh saved, cooling included. */
    costPerSavedKWh: estimateSchema.nullable(),
    internalRateOfReturn: finite.nullable(),
    paybackProbability: finite.nullable(),
    /** What moves the net present value, widest swing first; null for options without figures. */
    tornado: z.array(swingSchema).nullable(),
    cautions: z.array(said),
    /** True where a person has to confirm something before a pressure is lowered, and what. */
    needsConfirmation: z.boolean(),
    toConfirm: z.array(said),
  })
}
