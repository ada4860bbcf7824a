import type { PhaseKind } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import type { Segmentation } from '@/lib/phases/segment'
import type { Step } from '@/lib/phases/stretch'
import { ACCOUNT_KEYS } from './account-series'
import { nodePlan } from './node-plan'
import { noStreams, type Streams } from './operating-point'
import type { Doubt } from './propagate'
import { addShares, kindIndex, TOTALS_LENGTH } from './totals'

/** Seals and spools let no more than this share of the flow into the system while nothing moves (common practice, no source). */
const DEAD_HEAD_LEAK_SHARE = 0.01

const isDeadHeaded = (kind: PhaseKind) => kind === 'idle-loaded' || kind === 'work-holding'

/** Moves a step's oil to where its other kind sends it: none into the system while dead-headed, all of it while it moves. */
function sendElsewhere(streams: Streams, kind: PhaseKind, other: PhaseKind): void {
  const oil = streams.overRelief + streams.intoSystem
  const before = streams.intoSystem
  if (other === 'work-moving') streams.intoSystem = oil
  else if (kind === 'work-metering' && isDeadHeaded(other)) streams.intoSystem = 0
  else return
  streams.overRelief = oil - streams.intoSystem
  streams.work *= before > 0 ? streams.intoSystem / before : 0
  streams.metering = streams.intoSystem - streams.work
}

/**
 * What the totals would be more or less if what seals and spools let into the system while the pump is dead-headed, in
 * holds and loaded idles, were the most that is usual, where nothing is taken to flow there because no meter says so. It
 * is missing from what is taken to pass the relief, or, where a meter reads that, from the pump's loss.
 */
function deadHeadLeakage(
  steps: readonly Step[],
  energiesJ: Float64Array,
  model: Pick<MachineModel, 'isFixed' | 'machine'>,
  curve: ReliefCurve,
): Doubt[] {
  const change = new Float64Array(TOTALS_LENGTH)
  const reliefAt = ACCOUNT_KEYS.indexOf('overRelief')
  let leakJ = 0
  steps.forEach(({ kind, means }, k) => {
    if (!isDeadHeaded(kind)) return
    const { system, tank } = nodePlan(kind, means, model, curve)
    if (system !== 'nothing' && tank !== 'relief-line') return
    const oilJ = DEAD_HEAD_LEAK_SHARE * energiesJ[k * ACCOUNT_KEYS.length + reliefAt]
    if (!(oilJ > 0)) return
    leakJ += oilJ
    change[kindIndex(kind, 'intoSystem')] += oilJ
    change[kindIndex(kind, 'metering')] += oilJ
    change[kindIndex(kind, tank === 'return-meter' ? 'pumpLoss' : 'overRelief')] -= oilJ
  })
  return leakJ > 0 ? [{ source: 'hold-leakage', change }] : []
}

/**
 * How the totals change for every other way in which pressure or a return meter alone lets the kinds of steps be read.
 * Their energy moves from one kind to another and their oil from the relief to the system or back, and nothing is lost;
 * only where the pump's wear hangs on the reading the models are fitted again.
 * @param changeByFit how the totals change with models fitted to other steps, J
 */
export function doubtsOf(
  { steps, otherReadings }: Pick<Segmentation, 'steps' | 'otherReadings'>,
  energiesJ: Float64Array,
  model: Pick<MachineModel, 'motor' | 'isFixed' | 'machine'>,
  curve: ReliefCurve,
  changeByFit: (others: readonly Step[]) => Float64Array,
): Doubt[] {
  const streams = noStreams()
  const readings = otherReadings().map(({ doubt, steps: others }): Doubt => {
    if (doubt === 'worn-pump-or-feed') return { source: doubt, change: changeByFit(others) }
    const as = { told: new Float64Array(TOTALS_LENGTH), other: new Float64Array(TOTALS_LENGTH) }
    const add = (totals: Float64Array, kind: PhaseKind, durationS: number) => {
      const place = kindIndex(kind, ACCOUNT_KEYS[0])
      for (let j = 0; j < ACCOUNT_KEYS.length; j++) totals[place + j] += streams[ACCOUNT_KEYS[j]]
      addShares(totals, kind, streams, durationS, model.motor.ratedShaftW)
    }
    others.forEach(({ kind: other, durationS }, k) => {
      const { kind } = steps[k]
      if (other === kind) return
      for (let j = 0; j < ACCOUNT_KEYS.length; j++)
        streams[ACCOUNT_KEYS[j]] = energiesJ[k * ACCOUNT_KEYS.length + j]
      add(as.told, kind, durationS)
      sendElsewhere(streams, kind, other)
      add(as.other, other, durationS)
    })
    return { source: doubt, change: as.other.map((value, i) => value - as.told[i]) }
  })
  return model.isFixed ? [...readings, ...deadHeadLeakage(steps, energiesJ, model, curve)] : readings
}
