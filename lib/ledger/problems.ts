import type { Problem } from '@/lib/contract/result'
import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import { PA_PER_BAR } from '@/lib/units'
import { ACCOUNT_KEYS } from './account-series'
import { arrangementProblems } from './arrangement-problems'
import { doubtProblems } from './doubt-problems'
import { electricOfStepJ, highestPressurePa, type Ledger } from './ledger'
import { motorProblems } from './motor-problems'
import { nodeFlows } from './operating-point'
import { corrected } from './readings'
import { isSteady } from './step-frame'
import { tankLineProblems } from './tank-line'
import { unreadProblems } from './unread-input'

/** A motor above this share of rated input for a noticeable time is worth a word. */
const OVERLOAD_SHARE = 1.25
const NOTICEABLE_SHARE = 0.05
/** Less than this share of rated input is no contradiction. */
const CONTRADICTED_SHARE = 0.01

/** The columns that contradict one another in a step: flow meters where their balance stays open, else motor and pump. */
function contradicting({ sensors, values, model, curve }: Ledger, step: Step): string[] {
  const read = corrected(step.means, values)
  const { residual } = nodeFlows(read, step.kind, model, curve, read.pumpPressurePa, isSteady(step))
  const openW = Math.abs(residual * read.pumpPressurePa)
  const byFlow = openW > CONTRADICTED_SHARE * model.motor.ratedInputW
  const { pumpFlow, systemFlow, returnFlow, power, current, pumpPressure } = sensors
  const meters = byFlow ? [pumpFlow, systemFlow, returnFlow] : [power ?? current, pumpPressure]
  return meters.flatMap((sensor) => (sensor ? [sensor.column] : []))
}

/** What the account had to assume or saw contradicted; counts are samples. */
export function ledgerProblems(ledger: Ledger): Problem[] {
  const { sensors, model, segmentation, machine, account } = ledger
  const problems: Problem[] = []
  const add = (code: string, column: string | null, count: number, values: Problem['values'] = {}) => {
    if (count > 0) problems.push({ code, line: null, column, count, values })
  }
  const { current, power } = sensors
  let overload = 0
  let contradicted = 0
  let running = 0
  let silent = 0
  const concerned = new Set<string>()
  const contradictedAt = ACCOUNT_KEYS.indexOf('unaccounted')
  segmentation.steps.forEach((step, k) => {
    const { pumpPressurePa, currentA, powerW } = step.means
    if ([pumpPressurePa, currentA, powerW].every(Number.isNaN)) silent += step.to - step.from
    if (step.kind === 'stopped' || step.kind === 'starting') return
    const samples = step.to - step.from
    running += samples
    const ratedJ = model.motor.ratedInputW * step.durationS
    if (electricOfStepJ(ledger, k) > OVERLOAD_SHARE * ratedJ) overload += samples
    const contradictedJ = account.energiesJ[k * ACCOUNT_KEYS.length + contradictedAt]
    if (Math.abs(contradictedJ) > CONTRADICTED_SHARE * ratedJ) {
      contradicted += samples
      for (const column of contradicting(ledger, step)) concerned.add(column)
    }
  })
  const limitPa = highestPressurePa(machine)
  for (const channel of ledger.trace.channels) {
    if (channel.quantity !== 'pressure') continue
    const readings = readerOf(channel.values)
    let spikes = 0
    for (let i = 0; i < readings.length; i++) if (readings.at(i) > limitPa) spikes++
    add('pressure-spike', channel.column, spikes, { limitBar: limitPa / PA_PER_BAR })
  }
  add('sensors-silent', null, silent, { seconds: silent * ledger.trace.sampleIntervalS })
  for (const { code, column, count, values } of motorProblems(ledger)) add(code, column, count, values)
  if (overload > NOTICEABLE_SHARE * running) {
    add('motor-overload', (power ?? current)?.column ?? null, overload, { share: overload / running })
  }
  if (contradicted > NOTICEABLE_SHARE * running) {
    add('readings-contradict', null, contradicted, {
      share: contradicted / running,
      columns: [...concerned].join(', '),
    })
  }
  const loads = ledger.trace.channels.filter(
    (channel) => channel.quantity === 'pressure' && channel.location === 'load',
  )
  // One flow for several actuators: their highest pressure times all of it is the most that the work can be.
  if (loads.length > 1)
    add('work-is-upper-bound', sensors.loadPressure?.column ?? null, 1, { loads: loads.length })
  problems.push(...unreadProblems(ledger.withInput, (power ?? current)?.column ?? null))
  if (!current && !power) add('no-electric-channel', null, 1)
  return [...problems, ...doubtProblems(ledger), ...arrangementProblems(ledger), ...tankLineProblems(ledger)]
}
