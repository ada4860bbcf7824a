import { answerResumable } from '@/app/_server/resumable'
import { route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

/** Begins an upload that can be gone on with after the connection broke (tus protocol). */
export const POST = route('write', answerResumable)

/** What of the protocol is spoken here. */
export const OPTIONS = route('read', answerResumable)
