import { ApiProblem } from './api-problem'

export const MOST_POINTS = 4000
const FEWEST_POINTS = 2
const USUAL_POINTS = 1000

export interface SamplesQuery {
  /** Names as asked for; empty means the logged channels. */
  readonly channels: readonly string[]
  readonly fromS: number | null
  readonly toS: number | null
  readonly points: number
}

function number(params: URLSearchParams, name: string, expected: string): number | null {
  const actual = params.get(name)
  if (actual === null || actual === '') return null
  const value = Number(actual)
  if (!Number.isFinite(value)) throw new ApiProblem('bad-query', { name, expected, actual })
  return value
}

/** @throws ApiProblem `bad-query` */
export function samplesQuery(params: URLSearchParams): SamplesQuery {
  const channels = params.getAll('channels').filter((one) => one !== '')
  const fromS = number(params, 'from', 'elapsed seconds')
  const toS = number(params, 'to', 'elapsed seconds')
  const expected = `a whole number from ${FEWEST_POINTS} to ${MOST_POINTS}`
  const points = number(params, 'points', expected) ?? USUAL_POINTS
  if (!Number.isInteger(points) || points < FEWEST_POINTS || points > MOST_POINTS)
    throw new ApiProblem('bad-query', { name: 'points', expected, actual: points })
  return { channels, fromS, toS, points }
}
