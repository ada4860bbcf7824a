import type { Database } from '@/db/client'
import { findLog, listOverlapping, touchLogs } from '@/db/queries/logs'
import { HEARTBEAT_MS } from './heartbeat'
import { type ArrivedFile, importLog } from './import-log'
import { logFault } from './log-fault'
import { refreshLog, staleLogs } from './refresh-machine'
import type { SitedKey } from './store-log'
import { filesOf, type Stage } from './task'
import { removeTempFile } from './temp-file'

/** How far a machine's logs are brought up to date. */
export interface RefreshState {
  readonly logId: string
  readonly stage: Stage | 'storing'
  /** Share of the stage that is done, 0 to 1. */
  readonly progress: number
  readonly logsDone: number
  readonly logsInAll: number
}

type Job = () => Promise<void>

interface Queue {
  /** What somebody waits for: files that came in, and reports. */
  readonly first: Job[]
  /** What may wait: machines whose logs are brought up to date. */
  readonly later: Job[]
  /** Ends when nothing is queued any more, never rejects; null while nothing is at work. */
  work: Promise<void> | null
  /** Logs being imported or waiting for it. */
  readonly importing: Set<string>
  /** Machines whose logs wait to be brought up to date, with how often that was asked for. */
  readonly refreshing: Map<string, number>
  /** Of those the one at work, and how far it is. */
  readonly atWork: Map<string, RefreshState>
  heartbeat: NodeJS.Timeout | null
}

// Next evaluates modules several times; the one queue lives where all of them see it.
const shared = globalThis as typeof globalThis & { tankwardQueue?: Queue }

function queue(): Queue {
  shared.tankwardQueue ??= {
    first: [],
    later: [],
    work: null,
    importing: new Set(),
    refreshing: new Map(),
    atWork: new Map(),
    heartbeat: null,
  }
  return shared.tankwardQueue
}

async function workOff(state: Queue): Promise<void> {
  // Whoever queues the first job hears of it before it begins.
  await Promise.resolve()
  for (let job = nextOf(state); job; job = nextOf(state)) await job()
  state.work = null
}

const nextOf = ({ first, later }: Queue): Job | undefined => first.shift() ?? later.shift()

/** One job at a time: each already uses a processor of its own and memory in proportion to its file. */
function add<T>(line: Job[], job: () => Promise<T>): Promise<T> {
  const state = queue()
  const done = new Promise<T>((resolve, reject) => {
    line.push(async () => {
      try {
        resolve(await job())
      } catch (error) {
        logFault('job failed', error)
        reject(error)
      }
    })
  })
  state.work ??= workOff(state)
  // Told above, whether or not whoever queued it listens.
  done.catch(() => {})
  return done
}

/** Lets what somebody waits for go before the rest of a long job. @returns whether there was any */
async function giveWay({ first }: Queue): Promise<boolean> {
  const hasWaiting = first.length > 0
  for (let job = first.shift(); job; job = first.shift()) await job()
  return hasWaiting
}

function beat(db: Database): void {
  const state = queue()
  if (state.heartbeat) return
  state.heartbeat = setInterval(() => {
    if (state.importing.size > 0)
      touchLogs(db, [...state.importing]).catch((error) => logFault('heartbeat failed', error))
    else if (state.heartbeat) {
      clearInterval(state.heartbeat)
      state.heartbeat = null
    }
  }, HEARTBEAT_MS)
  state.heartbeat.unref()
}

/** Imports a received file when its turn comes, before logs that are to be brought up to date, and removes it from the disk afterwards. */
export function queueImport(db: Database, key: SitedKey, file: ArrivedFile): Promise<boolean> {
  const { importing } = queue()
  importing.add(key.logId)
  beat(db)
  return add(queue().first, async () => {
    try {
      const isStored = await importLog(db, key, file)
      if (isStored && (await overlaps(db, key))) await refreshAll(db, key.machineId)
      return isStored
    } finally {
      importing.delete(key.logId)
      for (const { path } of filesOf(file)) await removeTempFile(path)
    }
  })
}

/** Whether a stored log shares time with another of its machine, which then counts less or not at all. */
async function overlaps(db: Database, { machineId, logId }: SitedKey): Promise<boolean> {
  const row = await findLog(db, logId)
  if (!row?.startedAt || !row.endedAt) return false
  return (await listOverlapping(db, machineId, row.startedAt, row.endedAt)).length > 1
}

/** @param between done before each log; where it says that it did something, stale logs are looked for anew */
async function refreshAll(db: Database, machineId: string, between = async () => false): Promise<void> {
  let stale = await staleLogs(db, machineId)
  for (let logsDone = 0; stale.length > 0; logsDone++) {
    if (await between()) stale = await staleLogs(db, machineId)
    const [log, ...rest] = stale
    if (!log) return
    const logId = log.row.id
    const logsInAll = logsDone + stale.length
    await refreshLog(db, log, (stage, progress) => {
      queue().atWork.set(machineId, { logId, stage, progress, logsDone, logsInAll })
    })
    stale = rest
  }
}

/** Brings a machine's logs up to date with its set-up when nothing else waits; once, however often it is asked. */
export function queueRefresh(db: Database, machineId: string): Promise<void> {
  const { refreshing } = queue()
  refreshing.set(machineId, (refreshing.get(machineId) ?? 0) + 1)
  return add(queue().later, async () => {
    try {
      // A later request for the same machine does it all at once.
      if (refreshing.get(machineId) === 1) await refreshAll(db, machineId, () => giveWay(queue()))
    } finally {
      queue().atWork.delete(machineId)
      const waiting = (refreshing.get(machineId) ?? 1) - 1
      if (waiting > 0) refreshing.set(machineId, waiting)
      else refreshing.delete(machineId)
    }
  })
}

/** How far that is; null while it waits its turn, and where nothing is to be done. */
export function refreshState(machineId: string): RefreshState | null {
  return queue().atWork.get(machineId) ?? null
}

/** Whether a machine's figures are being brought up to date. */
export function isRefreshing(machineId: string): boolean {
  return queue().refreshing.has(machineId)
}

/** Logs being imported or waiting for it in this process. */
export function importingLogs(): string[] {
  return [...queue().importing]
}

/** Does any other job that somebody waits for when its turn comes. */
export const queueJob = <T>(job: () => Promise<T>): Promise<T> => add(queue().first, job)

/** Resolves when nothing is queued any more. */
export async function queueIdle(): Promise<void> {
  await queue().work
}
