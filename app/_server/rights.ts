import { timingSafeEqual } from 'node:crypto'

/** What a request wants to do; people and their rights will be asked here and nowhere else. */
export type Action = 'read' | 'write'

export type Answer =
  | { readonly allowed: true }
  | { readonly allowed: false; readonly why: 'token-missing' | 'cross-site' }

function sameText(a: string, b: string): boolean {
  const left = Buffer.from(a)
  const right = Buffer.from(b)
  return left.length === right.length && timingSafeEqual(left, right)
}

/** Whether a page of another origin sent this, as browsers say themselves; scripts and loggers say nothing. */
function isCrossSite(headers: Headers): boolean {
  const from = headers.get('sec-fetch-site')
  return from !== null && from !== 'same-origin' && from !== 'none'
}

/**
 * The one place that says who may do what. Today: all, unless TANKWARD_TOKEN is set; then a write needs
 * `Authorization: Bearer <it>`. Without it no page of another site may write through the browser of somebody
 * who has this app running.
 */
export function mayDo(action: Action, headers: Headers): Answer {
  if (action === 'read') return { allowed: true }
  const token = process.env.TANKWARD_TOKEN
  if (token && !sameText(headers.get('authorization') ?? '', `Bearer ${token}`))
    return { allowed: false, why: 'token-missing' }
  return !token && isCrossSite(headers) ? { allowed: false, why: 'cross-site' } : { allowed: true }
}
