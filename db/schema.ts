/** Every table by name, for the query builder and for drizzle-kit. */
import { analyses } from './schema/analyses'
import { corrections } from './schema/corrections'
import { envelopeChunks } from './schema/envelope-chunks'
import { layouts } from './schema/layouts'
import { logDigests } from './schema/log-digests'
import { logEvidence } from './schema/log-evidence'
import { logFiles } from './schema/log-files'
import { logMonths } from './schema/log-months'
import { logProduction } from './schema/log-production'
import { logs } from './schema/logs'
import { machineMonths } from './schema/machine-months'
import { machines } from './schema/machines'
import { measureEvents } from './schema/measure-events'
import { measureQuotes } from './schema/measure-quotes'
import { measures } from './schema/measures'
import { monthBaselines } from './schema/month-baselines'
import { monthDigests } from './schema/month-digests'
import { monthEvents } from './schema/month-events'
import { monthTotals } from './schema/month-totals'
import { reportRuns } from './schema/report-runs'
import { sampleChunks } from './schema/sample-chunks'
import { savedViews } from './schema/saved-views'
import { siteVersions } from './schema/site-versions'
import { sites } from './schema/sites'
import { trials } from './schema/trials'

export const schema = {
  sites,
  machines,
  logs,
  logFiles,
  sampleChunks,
  envelopeChunks,
  analyses,
  corrections,
  logEvidence,
  layouts,
  monthTotals,
  siteVersions,
  monthEvents,
  monthBaselines,
  machineMonths,
  logMonths,
  logDigests,
  monthDigests,
  measures,
  measureEvents,
  measureQuotes,
  logProduction,
  trials,
  savedViews,
  reportRuns,
}
