import { answerResumable } from '@/app/_server/resumable'
import { route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

/** How much of an upload is there; only who may send it may ask. */
export const HEAD = route('write', answerResumable)

/** The next piece. */
export const PATCH = route('write', answerResumable)

/** Gives an upload up. */
export const DELETE = route('write', answerResumable)

/** What of the protocol is spoken here. */
export const OPTIONS = route('read', answerResumable)
