import type { RefreshState } from '@/app/_jobs/queue'
import { percent } from '../format'
import { Refresher } from './refresher'

const STAGES: Readonly<Record<RefreshState['stage'], string>> = {
  reading: 'reading the file',
  analysing: 'analysing',
  storing: 'storing',
}

/** Says that and how far figures are being brought up to date, and asks again until they are. */
export function RefreshNote({ refresh }: { refresh: RefreshState | null }) {
  return (
    <div className="note" role="status">
      <Refresher />
      <p>
        The figures are just being brought up to date with a changed set-up, price or correction
        {refresh
          ? `: log ${refresh.logsDone + 1} of ${refresh.logsInAll}, ${STAGES[refresh.stage]}${refresh.progress > 0 ? ` (${percent(refresh.progress)})` : ''}`
          : ''}
        .
      </p>
    </div>
  )
}
