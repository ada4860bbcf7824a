import { timingSafeEqual } from 'node:crypto'

/** What a request wants to do; people and their rights will be asked here and nowhere else. */
export type Action = 'read' | 'write'

export type Answer = { readonly allowed: true } | { readonly allowed: false; readonly status: 401 | 403 }

function sameText(a: string, b: string): boolean {
  const left = Buffer.from(a)
  const right = Buffer.from(b)
  return left.length === right.length && timingSafeEqual(left, right)
}

/**
 * The one place that says who may do what. Today: all, unless TANKWARD_TOKEN is set; then a write needs
 * `Authorization: Bearer <it>`.
 */
export function mayDo(action: Action, authorization: string | null): Answer {
  const token = process.env.TANKWARD_TOKEN
  if (!token || action === 'read') return { allowed: true }
  return sameText(authorization ?? '', `Bearer ${token}`)
    ? { allowed: true }
    : { allowed: false, status: 401 }
}
