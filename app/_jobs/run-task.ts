import { type Analysed, analyse, analyseInStages } from '@/lib/analyse'
import type { Machine } from '@/lib/contract/machine'
import type { Answers } from '@/lib/contract/reading'
import { TankwardError } from '@/lib/errors'
import { joinLogs } from '@/lib/import/join-logs'
import { readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'
import { joinSurveys, type Survey, surveyLog } from '@/lib/import/survey'
import { logMonths } from '@/lib/months/log-month'
import { rollUp } from '@/lib/months/rollup'
import { openReceived } from './open-received'
import { type Packer, packAccount, packerTo, storedChannels } from './pack-log'
import { previewOf } from './preview'
import { noRows } from './row-buffer'
import { spanOf } from './span'
import type {
  Computed,
  ComputingInputs,
  Imported,
  Inspected,
  OnAccounted,
  OnProgress,
  OnRows,
  ReceivedFile,
  Task,
  TaskResult,
} from './task'
import { filesOf } from './task'
import { type StoredLog, unpackLog } from './unpack-log'
import { withTable } from './with-table'

function computedOf(log: ReadLog, analysed: Analysed, { site, leftOut }: ComputingInputs): Computed {
  const months = rollUp(log, analysed, site, leftOut)
  const beside = logMonths(log, analysed, site, leftOut)
  const { analysis, grounds, evidence } = analysed
  return { analysis, grounds, evidence, months, logMonths: beside }
}

/** Reads the files of a recording; several are joined. */
async function read(
  file: ReceivedFile,
  how: { machine: Machine | null; timeZone: string; answers?: Answers },
  onProgress: OnProgress,
): Promise<ReadLog> {
  const files = filesOf(file)
  const isPart = files.length > 1
  const logs: ReadLog[] = []
  for (const [i, part] of files.entries()) {
    const { fileName } = part
    const source = openReceived(part, (share) => onProgress('reading', (i + share) / files.length))
    logs.push(
      await withTable(source, fileName, ({ text, spreadsheet }) =>
        readLog(text, { fileName, spreadsheet, isPart, ...how }),
      ),
    )
  }
  const shifts = new Map(Object.entries(how.answers?.clockShifts ?? {}))
  return joinLogs(
    logs,
    files.map(({ fileName }) => shifts.get(fileName) ?? null),
  )
}

async function importFile(
  file: ReceivedFile,
  inputs: ComputingInputs & { readonly answers?: Answers },
  onProgress: OnProgress,
  packer: Packer,
  onAccounted?: OnAccounted,
): Promise<Imported> {
  const { machine, site, corrections, answers } = inputs
  const log = await read(file, { machine, timeZone: site.timeZone, answers }, onProgress)
  if (log.trace.timeS.length === 0) throw new TankwardError('no-samples', { file: file.fileName })
  onProgress('analysing', 0)
  // First, so that they are stored while the rest is worked out.
  await packer.trace(log.trace)
  onProgress('analysing', 0.2)
  const stages = analyseInStages(log, machine, site, corrections)
  const { timeS, channels } = log.trace
  const facts = { span: spanOf(log.trace), report: log.report, channels: storedChannels(channels) }
  const computed = computedOf(log, stages.accounted(), inputs)
  onProgress('analysing', 1)
  await onAccounted?.({ ...facts, computed })
  // No figure hangs on the account over time. Where another thread packs, its last part is packed beside the replaying.
  await packer.account(stages.account, timeS)
  // Months are sums of the account.
  const { analysis, grounds } = stages.withOptions()
  return { ...facts, computed: { ...computed, analysis, grounds } }
}

async function computeAnew(
  stored: StoredLog,
  inputs: ComputingInputs,
  onProgress: OnProgress,
  onRows: OnRows,
): Promise<Computed> {
  onProgress('analysing', 0)
  const log = unpackLog(stored)
  const analysed = analyse(log, inputs.machine, inputs.site, inputs.corrections)
  await packAccount(analysed.account, log.trace.timeS, onRows)
  return computedOf(log, analysed, inputs)
}

async function inspect(
  file: ReceivedFile,
  how: { machine: Machine | null; timeZone: string; answers?: Answers },
  onProgress: OnProgress,
): Promise<Inspected> {
  const survey = await surveyFile(file)
  try {
    const { trace, report } = await read(file, how, onProgress)
    const understood = { span: spanOf(trace), report, preview: previewOf(trace) }
    return { survey, understood, refusal: null }
  } catch (error) {
    if (!(error instanceof TankwardError)) throw error
    // A person may say what the columns are: those are shown with the refusal.
    return { survey, understood: null, refusal: { code: error.code, values: error.values } }
  }
}

async function surveyFile(file: ReceivedFile): Promise<Survey> {
  const surveys: Survey[] = []
  for (const part of filesOf(file))
    surveys.push(
      await withTable(openReceived(part), part.fileName, ({ text }) => surveyLog(text, part.fileName)),
    )
  return joinSurveys(surveys)
}

/**
 * Does a task in this thread: the one code path of imports, inspections and new analyses, whoever asks.
 * @param onAccounted given an import before its options are replayed
 * @param packer where an import's rows are packed, if not here
 * @throws TankwardError where the file or the machine cannot be understood
 */
export async function runTask<T extends Task>(
  task: T,
  onProgress: OnProgress = () => {},
  onRows: OnRows = noRows,
  onAccounted?: OnAccounted,
  packer: Packer = packerTo(onRows),
): Promise<TaskResult<T>> {
  const work = (): Promise<Imported | Computed | Inspected | Survey> => {
    switch (task.kind) {
      case 'import':
        return importFile(task.file, task, onProgress, packer, onAccounted)
      case 'inspect':
        return inspect(task.file, task, onProgress)
      case 'survey':
        return surveyFile(task.file)
      case 'analyse':
        return computeAnew(task.stored, task, onProgress, onRows)
    }
  }
  // The kind decides the result; the compiler cannot follow that through the switch.
  return (await work()) as TaskResult<T>
}
