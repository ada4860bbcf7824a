import { afterAll, beforeAll, expect } from 'vitest'
import { queueIdle } from '@/app/_jobs/queue'
import { setDatabase } from '@/app/_server/database'
import { type Database, type OpenDatabase, openDatabase } from '@/db/client'

const ORIGIN = 'http://tankward.test'

/** Gives the route handlers a new database in memory for the tests of a file. */
export function apiDatabase(): () => Database {
  let opened: OpenDatabase
  beforeAll(async () => {
    opened = await openDatabase({ folder: null })
    setDatabase(opened)
  })
  afterAll(async () => {
    await queueIdle()
    setDatabase(null)
    await opened?.close()
  })
  return () => opened.db
}

interface Sent {
  readonly method?: string
  readonly headers?: Record<string, string>
  readonly body?: BodyInit
}

/** A request as the server hands it to a route handler. */
export function request(path: string, sent: Sent = {}): Request {
  return new Request(`${ORIGIN}${path}`, sent)
}

export const jsonRequest = (path: string, method: string, body: unknown) =>
  request(path, { method, body: JSON.stringify(body), headers: { 'Content-Type': 'application/json' } })

/** What a route handler takes beside the request. */
export const params = <P>(values: P) => ({ params: Promise.resolve(values) })
export const noParams = params({})

/** The problem document of an answer, held against RFC 9457. */
export async function problemOf(answer: Response, status: number, code: string) {
  expect(answer.status).toBe(status)
  expect(answer.headers.get('content-type')).toBe('application/problem+json')
  const problem = await answer.json()
  expect(problem).toMatchObject({
    type: expect.stringMatching(/^\//),
    title: expect.stringMatching(/\S/),
    detail: expect.stringMatching(/\S/),
    status,
    code,
  })
  return problem
}
