import type { Inspection, SurveyAnswer } from '@/app/_server/inspection-shapes'
import type { FileAnswers, LayoutDraft } from './answers'

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
  /** Further files of the same recording. */
  readonly further: readonly File[]
  readonly machineId: string
  readonly stage: Stage
  /** Share of the present stage, 0 to 1, or null where it cannot be known. */
  readonly progress: number | null
  readonly state: string | null
  readonly inspection: Inspection | null
  /** What its top shows: with an inspection, or beside a refusal. */
  readonly survey: SurveyAnswer | null
  readonly answers: FileAnswers
  /** How often somebody tried to import it with questions open: they are marked then. */
  readonly tries: number
  readonly logId: string | null
  /** Of a large file that is whole on the server already, though not imported. */
  readonly uploadId: string | null
  /** The same of the further files. */
  readonly furtherIds: readonly string[]
  /** True while the connection is lost and everything waits for it. */
  readonly isCut: boolean
  /** Share that was there already when it was gone on with, after a break or after the page was closed. */
  readonly wentOnFrom: number | null
  readonly failure: string | null
}

/** The chosen files and what was said of them, kept while the app is open, whichever page is shown. */
export interface Uploads {
  readonly uploads: readonly Upload[]
  readonly drafts: readonly LayoutDraft[]
}

export const filesOf = ({ file, further }: Upload): readonly File[] => [file, ...further]

export const nameOf = (upload: Upload): string =>
  filesOf(upload)
    .map(({ name }) => name)
    .join(' + ')

export function newUpload(file: File, machineId: string, further: readonly File[] = []): Upload {
  return {
    key: `${file.name} ${file.size} ${file.lastModified} ${Math.random()}`,
    file,
    further,
    machineId,
    stage: 'waiting',
    progress: null,
    state: null,
    inspection: null,
    survey: null,
    answers: {},
    tries: 0,
    logId: null,
    uploadId: null,
    furtherIds: [],
    isCut: false,
    wentOnFrom: null,
    failure: null,
  }
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
  analysing: 'finding phases and account',
  storing: 'storing the samples',
  replaying: 'stored; savings are being worked out',
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
/** Lost where the page is closed now: what the server has goes on by itself. */
export const needsThisPage = (stage: Stage) => isBusy(stage) && stage !== 'working'
