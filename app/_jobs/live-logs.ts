import type { OptionId } from '@/lib/contract/result'
import type { LiveOption } from '@/lib/live-options'
import type { Given } from '@/lib/options/settings'
import { type LiveThread, startLiveThread } from './live-thread'
import type { ComputingInputs } from './task'
import type { StoredLog } from './unpack-log'

/** Logs kept ready at most, each in a thread of its own: the memory of a trace and its account. */
export const MOST_LIVE_LOGS = 3
/** One that nobody has asked for so long is given up, ms. */
const IDLE_MS = 600_000

/** Which log, and a mark of everything that it is computed with. */
export interface LiveKey {
  readonly logId: string
  readonly inputs: string
}

export type LoadLive = () => Promise<ComputingInputs & { readonly stored: StoredLog }>

interface LiveLog extends LiveKey {
  readonly thread: LiveThread
  isReady: boolean
  /** Why it could not be taken up. */
  failure: unknown
  idle: NodeJS.Timeout | null
}

// Next evaluates modules several times; the logs kept ready live where all of them see them. Last asked for, last.
const shared = globalThis as typeof globalThis & { tankwardLiveLogs?: LiveLog[] }
const kept = (): LiveLog[] => {
  shared.tankwardLiveLogs ??= []
  return shared.tankwardLiveLogs
}

function drop(log: LiveLog): void {
  const at = kept().indexOf(log)
  if (at >= 0) kept().splice(at, 1)
  if (log.idle) clearTimeout(log.idle)
  log.thread.stop()
}

function touch(log: LiveLog): void {
  const logs = kept()
  logs.splice(logs.indexOf(log), 1)
  logs.push(log)
  if (log.idle) clearTimeout(log.idle)
  log.idle = setTimeout(() => drop(log), IDLE_MS)
  log.idle.unref()
}

function take(key: LiveKey, load: LoadLive): void {
  const logs = kept()
  // A log computed with anything else is not wanted again: its old self goes first, then the one longest unasked.
  for (const other of logs.filter(({ logId }) => logId === key.logId)) drop(other)
  while (logs.length >= MOST_LIVE_LOGS) drop(logs[0])
  const log: LiveLog = { ...key, thread: startLiveThread(), isReady: false, failure: null, idle: null }
  logs.push(log)
  touch(log)
  load()
    .then((work) => log.thread.ask({ kind: 'take', ...work }))
    .then(
      () => {
        log.isReady = true
      },
      (error) => {
        log.failure = error
      },
    )
}

/**
 * Replays an option of a log that is kept ready. Null while it is being taken up: ask again.
 * @param load the log and all that it is computed with, read where it is not kept yet
 * @throws what taking it up threw, once; then it is tried anew
 */
export async function replayLive(
  key: LiveKey,
  load: LoadLive,
  option: OptionId,
  settings: Given,
): Promise<LiveOption | null> {
  const log = kept().find(({ logId, inputs }) => logId === key.logId && inputs === key.inputs)
  if (!log) {
    take(key, load)
    return null
  }
  touch(log)
  if (log.failure !== null) {
    drop(log)
    throw log.failure
  }
  if (!log.isReady) return null
  try {
    return await log.thread.ask({ kind: 'replay', option, settings })
  } catch (error) {
    // Given up for others meanwhile: it is taken up again when it is asked for again.
    if (!kept().includes(log)) return null
    drop(log)
    throw error
  }
}

/** Gives up every log that is kept ready. */
export function dropLiveLogs(): void {
  for (const log of [...kept()]) drop(log)
}
