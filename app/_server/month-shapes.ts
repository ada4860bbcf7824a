import { z } from 'zod'
import { MONTH_ACTIONS } from '@/db/schema/month-events'
import { PHASE_CLASSES, PHASE_KINDS } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { CAUSES } from '@/lib/months/causes'
import { FIGURES } from '@/lib/months/figures'
import { REFERENCES } from '@/lib/months/references'
import { REPRESENTATIVE_CODES } from '@/lib/months/representative'
import { WASTE_KINDS } from '@/lib/months/waste'

const amountSchema = z.object({ kWh: z.number(), cost: z.number(), kgCO2: z.number() })
const byClass = <T extends z.ZodType>(one: T) => z.record(z.enum(PHASE_CLASSES), one)
const monthPartSchema = z.object({
  runningHours: z.number(),
  hours: byClass(z.number()),
  electric: amountSchema,
  electricByClass: byClass(amountSchema),
  waste: z.record(z.enum(WASTE_KINDS), amountSchema.nullable()),
  /** Left in the oil as heat; without metering where that is not separable. */
  heatKWh: z.number(),
})

/** Null as a month has no log of the machine: no data. */
export const monthSummarySchema = z.object({
  plannedHours: z.number(),
  measured: monthPartSchema,
  scaled: monthPartSchema.nullable(),
  whole: monthPartSchema.nullable(),
  coverageShare: z.number(),
  thinCoverage: z.boolean(),
})

/** How far a 95 % interval reaches below and above its value, kWh. */
const reachSchema = z.object({ below: z.number(), above: z.number() })
const monthReachSchema = z.object({
  measured: reachSchema,
  scaled: reachSchema.nullable(),
  whole: reachSchema.nullable(),
  scaledParts: z.object({ rates: z.number(), days: z.number(), hours: z.number() }).nullable(),
})

/** The effects add up to the change. */
const splitSchema = z.object({ change: z.number(), effects: z.record(z.enum(CAUSES), z.number()) })
const changeSchema = z.object({ kWh: splitSchema, cost: splitSchema })
const sideSchema = z.object({
  runningHours: z.number(),
  pricePerKWh: z.number(),
  kWh: z.number(),
  reach: reachSchema.nullable(),
})
const kindSideSchema = z.object({ share: z.number(), kWhPerHour: z.number() })

/** What the change of a figure was split from; null where one side says nothing of it. */
export const changeAnswerSchema = z.object({
  month: z.string(),
  machineId: z.string(),
  figure: z.enum(FIGURES),
  against: z.enum(REFERENCES),
  /** The months it is held against; of several it is their mean. */
  months: z.array(z.string()),
  inputs: z
    .object({
      before: sideSchema,
      after: sideSchema,
      kinds: z
        .array(z.object({ kind: z.enum(PHASE_KINDS), before: kindSideSchema, after: kindSideSchema }))
        .readonly(),
      change: changeSchema,
      /** How far the 95 % interval of the change reaches, kWh and money; null where a side has none. */
      reach: z.object({ kWh: reachSchema, cost: reachSchema }).nullable(),
    })
    .nullable(),
})

const sharedReachSchema = reachSchema.extend({ shared: z.number() })
const doubtSideSchema = z.object({ kWh: sharedReachSchema, cost: sharedReachSchema })

/** The change of waste of many machines together, and of each what its two months are sure of. */
export const changeSumSchema = z.object({
  month: z.string(),
  against: z.enum(REFERENCES),
  /** The kinds of waste that were asked for together. */
  kinds: z.array(z.enum(WASTE_KINDS)).readonly(),
  /** Machines that both months know, and of those the ones whose intervals are not known yet. */
  machines: z.number().int(),
  unsure: z.number().int(),
  kWh: z.number(),
  cost: z.number(),
  /** How far the 95 % interval of the sum reaches, kWh and money; null where that of a machine is not known yet. */
  reach: z.object({ kWh: reachSchema, cost: reachSchema }).nullable(),
  parts: z.array(
    z.object({
      machineId: z.string(),
      kWh: z.number(),
      cost: z.number(),
      /** By month; `shared` is the part that planned hours make, alike for all machines. Null: not known yet. */
      doubt: z.object({ before: doubtSideSchema, after: doubtSideSchema }).nullable(),
    }),
  ),
})

const notesSchema = z
  .array(
    z.object({
      code: z.enum(REPRESENTATIVE_CODES),
      values: z.record(z.string(), z.union([z.string(), z.number()])),
    }),
  )
  .readonly()

/** The logs that a month stands on, by machine. */
export const monthLogsSchema = z.object({
  month: z.string(),
  machines: z.array(
    z.object({
      machineId: z.string(),
      name: z.string(),
      /** What they do not stand for. */
      notes: notesSchema,
      logs: z
        .array(
          z.object({
            logId: z.string(),
            fileName: z.string(),
            startedAt: z.string().nullable(),
            durationS: z.number().nullable(),
            rowsRead: z.number().int().nullable(),
            rowsRejected: z.number().int().nullable(),
            /** Null where nothing is kept of its analysis: an earlier engine made it. */
            modelTrusted: z.boolean().nullable(),
            problemCount: z.number().int().nullable(),
            /** Its options are still being replayed: what was wrong with it is known then. */
            isReplaying: z.boolean().optional(),
            /** In words; null where others need a look sooner. */
            problems: z.array(z.string()).readonly().nullable(),
          }),
        )
        .readonly(),
    }),
  ),
})

const seenSchema = z.object({ name: z.string(), plannedHours: z.number(), loggedHours: z.number() })

export const monthReviewSchema = z.object({
  reach: z.record(z.enum([...FIGURES, 'waste']), monthReachSchema.nullable()),
  changes: z.record(z.enum(REFERENCES), z.record(z.enum(FIGURES), changeSchema.nullable()).nullable()),
  /** Beside the price of energy, in the site's currency; null where nothing is charged or nothing tells. */
  charges: z.object({ demand: z.number().nullable(), reactive: z.number().nullable() }),
  represents: z.object({
    weekdays: z.array(seenSchema).readonly(),
    shifts: z.array(seenSchema).readonly(),
    notes: notesSchema,
  }),
  logs: z.number().int(),
  days: z.number().int(),
  cyclesPerHour: z.number().nullable(),
  emissionKgPerKWh: z.number(),
})

const LONGEST_NAME = 200
const LONGEST_NOTE = 2000
const author = z.string().trim().min(1).max(LONGEST_NAME)
const note = z.string().trim().max(LONGEST_NOTE)

/** Closing a month, with a note if wanted, or opening it again, with the reason. */
export const newMonthEventSchema = z.discriminatedUnion('action', [
  z.object({ action: z.literal('closed'), author, note: note.nullable().default(null) }),
  z.object({ action: z.literal('reopened'), author, note: note.min(1) }),
])

export const monthEventSchema = z.object({
  action: z.enum(MONTH_ACTIONS),
  author: z.string(),
  note: z.string().nullable(),
  at: z.string(),
})
export const monthEventsSchema = z.object({
  month: z.string(),
  closed: z.boolean(),
  events: z.array(monthEventSchema),
})

const month = z.string().regex(/^\d{4}-(0[1-9]|1[0-2])$/)

/** The months a machine is held against; no months take the mark away. */
export const newBaselineSchema = z.object({
  machineId: z.string().min(1),
  months: z.object({ from: month, until: month }).nullable(),
  author,
  note: note.nullable().default(null),
})
export const baselinesSchema = z.object({
  baselines: z.array(
    z.object({
      machineId: z.string(),
      from: z.string(),
      until: z.string(),
      author: z.string(),
      note: z.string().nullable(),
      at: z.string(),
    }),
  ),
})

export const siteHistorySchema = z.object({
  versions: z.array(
    z.object({
      number: z.number().int(),
      at: z.string(),
      author: z.string().nullable(),
      reason: z.string().nullable(),
      /** Whether days before it that were logged cost otherwise by it. */
      correctsPast: z.boolean(),
      settings: siteSchema,
    }),
  ),
})
