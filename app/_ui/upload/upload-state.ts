import type { Inspection } from '@/app/_server/inspection-shapes'

export type { Inspection }

/** One chosen file on its way from the disk to a stored, analysed log. */
export type Stage =
  | 'waiting'
  | 'inspecting'
  | 'inspected'
  | 'refused'
  | 'queued'
  | 'sending'
  | 'working'
  | 'done'
  | 'duplicate'
  | 'failed'
  | 'undone'

export interface Upload {
  readonly key: string
  readonly file: File
  readonly stage: Stage
  /** Share of the present stage, 0 to 1, or null where it cannot be known. */
  readonly progress: number | null
  readonly state: string | null
  readonly inspection: Inspection | null
  readonly logId: string | null
  readonly failure: string | null
}

export const STAGE_WORDS: Readonly<Record<Stage, string>> = {
  waiting: 'Waiting to be read',
  inspecting: 'Being read; nothing is stored yet',
  inspected: 'Understood; not stored yet',
  refused: 'Not understood; nothing stored',
  queued: 'Waiting for its turn',
  sending: 'Being sent',
  working: 'Being imported',
  done: 'Imported',
  duplicate: 'Already imported before; stored once',
  failed: 'Import failed; nothing stored',
  undone: 'Stopped or undone; nothing of it is stored',
}

/** Server states in words. */
export const SERVER_STATES: Readonly<Record<string, string>> = {
  received: 'received, waiting for its turn',
  reading: 'reading the rows',
  analysing: 'finding phases, account and options',
  storing: 'storing the samples',
  done: 'done',
  failed: 'failed',
}

export const isOver = (stage: Stage) => stage === 'done' || stage === 'duplicate' || stage === 'undone'
export const canImport = (stage: Stage) => stage === 'inspected' || stage === 'failed'
export const isBusy = (stage: Stage) =>
  stage === 'waiting' ||
  stage === 'inspecting' ||
  stage === 'queued' ||
  stage === 'sending' ||
  stage === 'working'
