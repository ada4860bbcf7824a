import { logFault } from '@/app/_jobs/log-fault'
import { outageOf } from '@/app/_jobs/outage'
import { errorWords } from '@/app/_words/errors'
import { FolderInUseError } from '@/db/folder-lock'
import { type ErrorValues, TankwardError } from '@/lib/errors'
import { ApiProblem, answerProblem, problemResponse } from './api-problem'
import { type Action, mayDo } from './rights'

/** What was sent is well formed HTTP, and cannot be understood as what it should be. */
const UNPROCESSABLE = 422

type Params = Readonly<Record<string, string>>
interface Context<P> {
  readonly params: Promise<P>
}

/** The problem document of a file that cannot be understood. @param extra what is known of it all the same */
export function refusalResponse(
  refusal: { readonly code: string; readonly values: ErrorValues },
  extra: Readonly<Record<string, unknown>> = {},
): Response {
  const { code, values } = refusal
  const words = errorWords(refusal)
  return problemResponse({ status: UNPROCESSABLE, code, ...words, extra: { values, ...extra } })
}

function answerError(error: unknown): Response {
  if (error instanceof ApiProblem) return answerProblem(error)
  if (error instanceof FolderInUseError) return answerProblem(new ApiProblem('data-folder-in-use'))
  if (error instanceof TankwardError) return refusalResponse(error)
  logFault('request failed', error)
  return answerProblem(new ApiProblem(outageOf(error) ?? 'internal'))
}

/** A route handler that asks for the right to act first and answers every error with a problem document. */
export function route<P extends Params>(
  action: Action,
  handle: (request: Request, params: P) => Promise<Response>,
): (request: Request, context: Context<P>) => Promise<Response> {
  return async (request, context) => {
    try {
      const answer = mayDo(action, request.headers)
      if (!answer.allowed) throw new ApiProblem(answer.why)
      return await handle(request, await context.params)
    } catch (error) {
      return answerError(error)
    }
  }
}

/** A JSON answer that no cache keeps: states and figures change. */
export function json(
  body: unknown,
  init: { status?: number; headers?: Record<string, string> } = {},
): Response {
  return Response.json(body, { ...init, headers: { 'Cache-Control': 'no-store', ...init.headers } })
}
