import type { Problem } from '@/lib/contract/result'
import { PA_PER_BAR } from '@/lib/units'
import { ACCOUNT_KEYS } from './account-series'
import { electricOfStepJ, highestPressurePa, type Ledger } from './ledger'

/** A motor above this share of rated input for a noticeable time is worth a word. */
const OVERLOAD_SHARE = 1.25
const NOTICEABLE_SHARE = 0.05
/** Less than this share of rated input is no contradiction. */
const CONTRADICTED_SHARE = 0.01

/** What the account had to assume or saw contradicted; counts are samples. */
export function ledgerProblems(ledger: Ledger): Problem[] {
  const { sensors, model, segmentation, machine, account } = ledger
  const problems: Problem[] = []
  const add = (code: string, column: string | null, count: number, values: Problem['values'] = {}) => {
    if (count > 0) problems.push({ code, line: null, column, count, values })
  }
  const { current, power } = sensors
  let belowNoLoad = 0
  let overload = 0
  let contradicted = 0
  let running = 0
  let silent = 0
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
    if (Math.abs(contradictedJ) > CONTRADICTED_SHARE * ratedJ) contradicted += samples
    if (power || !current) return
    for (let i = step.from; i < step.to; i++) {
      if (current.values[i] < model.motor.noLoadCurrentA) belowNoLoad++
    }
  })
  const limitPa = highestPressurePa(machine)
  for (const channel of ledger.trace.channels) {
    if (channel.quantity !== 'pressure') continue
    const spikes = channel.values.reduce((count, value) => (value > limitPa ? count + 1 : count), 0)
    add('pressure-spike', channel.column, spikes, { limitBar: limitPa / PA_PER_BAR })
  }
  add('sensors-silent', null, silent, { seconds: silent * ledger.trace.sampleIntervalS })
  if (current) {
    add('current-clamped-to-no-load', current.column, belowNoLoad, {
      noLoadCurrentA: model.motor.noLoadCurrentA,
    })
  }
  if (overload > NOTICEABLE_SHARE * running) {
    add('motor-overload', (power ?? current)?.column ?? null, overload, { share: overload / running })
  }
  if (contradicted > NOTICEABLE_SHARE * running) {
    add('readings-contradict', null, contradicted, { share: contradicted / running })
  }
  if (!ledger.plate.motor.noLoadCurrentA && !power) {
    add('default-no-load-current', null, 1, { noLoadCurrentA: model.motor.noLoadCurrentA })
  }
  if (!current && !power) add('no-electric-channel', null, 1)
  return problems
}
