import { z } from 'zod'

/** Where a figure comes from: a fitted sensor, a model fed by sensors, or defaults alone. */
export const BASES = ['measured', 'estimated', 'default'] as const
export type Basis = (typeof BASES)[number]

/** A value with its 95 % interval and basis. `null` in its place means: not separable with these sensors. */
export const estimateSchema = z.object({
  value: z.number(),
  low: z.number(),
  high: z.number(),
  basis: z.enum(BASES),
})
export type Estimate = z.infer<typeof estimateSchema>
