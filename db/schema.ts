/** Every table by name, for the query builder and for drizzle-kit. */
import { analyses } from './schema/analyses'
import { corrections } from './schema/corrections'
import { envelopeChunks } from './schema/envelope-chunks'
import { layouts } from './schema/layouts'
import { logDigests } from './schema/log-digests'
import { logFiles } from './schema/log-files'
import { logProduction } from './schema/log-production'
import { logs } from './schema/logs'
import { machines } from './schema/machines'
import { measureEvents } from './schema/measure-events'
import { measureQuotes } from './schema/measure-quotes'
import { measures } from './schema/measures'
import { monthDigests } from './schema/month-digests'
import { monthTotals } from './schema/month-totals'
import { reportRuns } from './schema/report-runs'
import { sampleChunks } from './schema/sample-chunks'
import { savedViews } from './schema/saved-views'
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
  layouts,
  monthTotals,
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
