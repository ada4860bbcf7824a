import type { OptionId } from '@/lib/contract/result'
import { type LiveOption, type LiveOptions, liveOptions } from '@/lib/live-options'
import type { Given } from '@/lib/options/settings'
import type { ComputingInputs } from './task'
import { type StoredLog, unpackLog } from './unpack-log'

/** What a thread that keeps one log ready is asked: first to take it up, then again and again about an option. */
export type LiveQuestion =
  | ({ readonly kind: 'take'; readonly stored: StoredLog } & ComputingInputs)
  | { readonly kind: 'replay'; readonly option: OptionId; readonly settings: Given }

/** Keeps one log ready in this thread and answers about its options; null for a log that was taken up. */
export function liveDesk(): (question: LiveQuestion) => LiveOption | null {
  let live: LiveOptions | null = null
  return (question) => {
    if (question.kind === 'take') {
      const { stored, machine, site, corrections } = question
      live = liveOptions(unpackLog(stored).trace, machine, site, corrections)
      return null
    }
    if (!live) throw new Error('no log was taken up')
    return live(question.option, question.settings)
  }
}
