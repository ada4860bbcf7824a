import { z } from 'zod'
import { explanationSchema } from '@/lib/contract/explanation'

const { formula, rules, inputs, defaults, intervalParts, narrowing } = explanationSchema.shape

/** An explanation with its formula written out and a name beside every code. */
export const explanationAnswerSchema = explanationSchema.extend({
  formula: formula.extend({ message: z.string() }),
  legend: z.array(z.object({ symbol: z.string(), written: z.string(), name: z.string() })),
  rules: z.array(rules.element.extend({ message: z.string() })),
  inputs: z.array(inputs.element.extend({ name: z.string() })),
  defaults: z.array(defaults.element.extend({ name: z.string() })),
  intervalParts: z.array(intervalParts.element.extend({ name: z.string() })),
  takenAsExact: z.array(z.object({ code: z.string(), message: z.string() })),
  narrowing: narrowing.unwrap().extend({ name: z.string(), message: z.string() }).nullable(),
})

/** What can be explained of a log, or all of it. */
export const explanationsAnswerSchema = z.object({
  figures: z.array(z.string()),
  explanations: z.array(explanationAnswerSchema).optional(),
})
