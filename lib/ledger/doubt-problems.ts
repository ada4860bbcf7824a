import type { PhaseKind, Problem } from '@/lib/contract/result'
import type { KindDoubt } from '@/lib/phases/segment'
import type { Step } from '@/lib/phases/stretch'
import { sumOf } from '@/lib/samples/samples'
import type { Ledger } from './ledger'

const CODE = {
  'hold-or-wait': 'hold-or-wait-unsure',
  'load-or-early-relief': 'early-relief-taken',
  'worn-pump-or-feed': 'worn-pump-unsure',
} as const satisfies Record<KindDoubt, string>

/** Less than this share of the logged time is not worth a word. */
const NOTICEABLE_SHARE = 0.002

function takenFor(doubt: KindDoubt, open: readonly Step[]): { takenFor?: string } {
  const hasKind = (wanted: PhaseKind) => open.some(({ kind }) => kind === wanted)
  if (doubt === 'hold-or-wait') return { takenFor: hasKind('idle-loaded') ? 'idle' : 'work' }
  if (doubt === 'worn-pump-or-feed') return { takenFor: hasKind('work-metering') ? 'feed' : 'wear' }
  return {}
}

/** Steps whose kind pressure alone leaves open, with the time they last; their words name the sensor that would tell. */
export function doubtProblems({ segmentation, trace }: Pick<Ledger, 'segmentation' | 'trace'>): Problem[] {
  const { steps } = segmentation
  const loggedS = sumOf(trace.holdS)
  return segmentation.otherReadings().flatMap(({ doubt, steps: others }): Problem[] => {
    const open = steps.filter(({ kind }, k) => others[k].kind !== kind)
    const seconds = open.reduce((sum, { durationS }) => sum + durationS, 0)
    const count = open.reduce((sum, { from, to }) => sum + to - from, 0)
    const values = { seconds, ...takenFor(doubt, open) }
    return seconds > NOTICEABLE_SHARE * loggedS
      ? [{ code: CODE[doubt], line: null, column: null, count, values }]
      : []
  })
}
