import { sql } from 'drizzle-orm'
import {
  boolean,
  doublePrecision,
  index,
  integer,
  json,
  jsonb,
  pgTable,
  primaryKey,
  text,
} from 'drizzle-orm/pg-core'
import { instant } from '@/db/columns'
import type { Estimate } from '@/lib/contract/estimate'
import type { OptionId } from '@/lib/contract/option-result'
import type { Note, OptionResult, Problem } from '@/lib/contract/result'
import type { FundingChoice } from '@/lib/portfolio/choice'
import { logKey, ofLog } from './log-key'

/** The first option of a ranking that saves, as lists show it. */
export type BestOption = Pick<
  OptionResult,
  | 'id'
  | 'savedKWhPerYear'
  | 'savedCostPerYear'
  | 'savedKgCO2PerYear'
  | 'paybackYears'
  | 'netPresentValue'
  | 'investment'
  | 'investmentIsPlaceholder'
>

/** Figures of a recording that stand for its machine beside others. */
export interface LogFigures {
  readonly inputKWh: Estimate
  /** Shares of the input at the meter; null where the sensors cannot separate it. */
  readonly shares: Readonly<
    Record<'idle' | 'overRelief' | 'metering' | 'work' | 'unaccounted', Estimate | null>
  >
  readonly kWhPerCycle: Estimate | null
}

/**
 * What pages that list many machines need of an analysis, written with it: an analysis is a hundred times as long.
 * When it was recorded stands here too, so that a machine's latest is found by one index.
 */
export const logDigests = pgTable(
  'log_digests',
  {
    ...logKey(),
    /** When it was recorded, null where the log has no date, and when it was received. */
    startedAt: instant('started_at'),
    receivedAt: instant('received_at').notNull(),
    figures: jsonb('figures').$type<LogFigures>().notNull(),
    modelTrusted: boolean('model_trusted').notNull(),
    /** What was wrong with the recording: pages of a month show it of hundreds of logs. */
    problems: jsonb('problems').$type<Problem[]>().notNull().default([]),
    problemCount: integer('problem_count').notNull().generatedAlwaysAs(sql`jsonb_array_length(problems)`),
    /** As text: a month's page reads it of every machine, and taking it apart and together again takes the database longest. */
    best: json('best').$type<BestOption>(),
    /** Of it what comparisons show. */
    bestOption: text('best_option').$type<OptionId>().generatedAlwaysAs(sql`best ->> 'id'`),
    bestSavedKWhPerYear: doublePrecision('best_saved_kwh_per_year').generatedAlwaysAs(
      sql`(best -> 'savedKWhPerYear' ->> 'value')::double precision`,
    ),
    /** What could be bought for the machine by this log. */
    choices: jsonb('choices').$type<FundingChoice[]>().notNull(),
    /** What to mind and to confirm, by option. */
    cautions: jsonb('cautions').$type<Partial<Record<OptionId, Note[]>>>().notNull(),
  },
  (table) => [
    primaryKey({ columns: [table.machineId, table.logId] }),
    index('log_digests_latest').on(
      table.machineId,
      sql`${table.startedAt} desc nulls last`,
      sql`${table.receivedAt} desc`,
    ),
    ofLog(table),
  ],
)

export type LogDigestRow = typeof logDigests.$inferSelect
