import { inputsOf, overlapOf, siteOfLog } from '@/app/_jobs/inputs'
import { replayLive } from '@/app/_jobs/live-logs'
import { isRefreshing } from '@/app/_jobs/queue'
import { loadLog } from '@/app/_jobs/reanalyse-log'
import { describeOption } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { listAnalysisInputs } from '@/db/queries/analyses'
import { listCorrections } from '@/db/queries/corrections'
import { listDoneLogs } from '@/db/queries/logs'
import { siteSettings } from '@/db/queries/sites'
import type { LogRow } from '@/db/schema/logs'
import { OPTION_IDS, type OptionId } from '@/lib/contract/result'
import type { LiveOption } from '@/lib/live-options'
import type { Given } from '@/lib/options/settings'
import { ApiProblem } from './api-problem'
import { needMachine } from './find-log'
import type { LiveAnswer, LiveState } from './shapes'

const isOption = (text: string): text is OptionId => OPTION_IDS.some((id) => id === text)

/** An ApiProblem where the option says that a setting cannot be moved, or not so far. */
function refuseSettings({ row }: LiveOption): void {
  for (const { code, values } of row.reasons) {
    if (code === 'setting-not-movable') {
      const known = Object.keys(row.settings).join(', ') || 'none'
      throw new ApiProblem('unknown-setting', { option: row.id, known, ...values })
    }
    if (code === 'setting-out-of-range') throw new ApiProblem('setting-out-of-range', values)
  }
}

function answerOf(live: LiveOption): LiveAnswer {
  refuseSettings(live)
  const ranges = Object.entries(live.ranges).map(([name, [low, high]]) => [name, { low, high }])
  return { state: 'replayed', option: describeOption(live.row), ranges: Object.fromEntries(ranges) }
}

/**
 * An option of a log with settings that a person moved, replayed on the stored samples with today's set-up, site and
 * corrections; the state while the log is taken up or its figures are brought up to date. Nothing is stored.
 * @throws ApiProblem `unknown-option`, `not-ready`, `not-current`, `unknown-setting`, `setting-out-of-range`
 */
export async function liveAnswer(
  db: Database,
  row: LogRow,
  option: string,
  settings: Given,
): Promise<LiveAnswer | LiveState> {
  const { id, machineId, siteId, state } = row
  if (!isOption(option)) throw new ApiProblem('unknown-option', { option, known: OPTION_IDS.join(', ') })
  if (state !== 'done') throw new ApiProblem('not-ready', { id, state })
  const { config: machine } = await needMachine(db, machineId)
  const site = siteOfLog(await siteSettings(db, siteId), row)
  const corrections = await listCorrections(db, { machineId, logId: id })
  const today = inputsOf(
    machine,
    site,
    corrections,
    row.reading?.reading,
    overlapOf(row, await listDoneLogs(db, machineId)),
  )
  const made = (await listAnalysisInputs(db, machineId)).find(({ logId }) => logId === id)
  const isCurrent =
    made?.readingInputs === today.readingInputs && made.computingInputs === today.computingInputs
  if (!isCurrent) {
    if (isRefreshing(machineId)) return { state: 'updating' }
    throw new ApiProblem('not-current', { id })
  }
  const live = await replayLive(
    { logId: id, inputs: `${today.readingInputs} ${today.computingInputs}` },
    async () => ({ stored: await loadLog(db, row), machine, site, corrections }),
    option,
    settings,
  )
  return live ? answerOf(live) : { state: 'preparing' }
}
