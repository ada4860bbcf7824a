import type { z } from 'zod'
import { ApiProblem } from './api-problem'

/**
 * The request's JSON in the wanted shape.
 * @throws ApiProblem `not-json`, or `invalid-shape` with every issue: its path, code and what was expected
 */
export async function readJson<T>(request: Request, schema: z.ZodType<T>): Promise<T> {
  let body: unknown
  try {
    body = await request.json()
  } catch (error) {
    throw new ApiProblem('not-json', { reason: error instanceof Error ? error.message : '' })
  }
  const parsed = schema.safeParse(body)
  if (parsed.success) return parsed.data
  const issues = parsed.error.issues.map(({ path, message, ...issue }) => ({
    path: path.map(String),
    ...issue,
    message,
  }))
  throw new ApiProblem('invalid-shape', {}, { issues })
}
