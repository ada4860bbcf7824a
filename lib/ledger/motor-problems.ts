import { motorsOf } from '@/lib/contract/arrangement'
import type { Problem } from '@/lib/contract/result'
import { currentTellsTorque } from '@/lib/machine/electric-side'
import { motorNotes } from '@/lib/machine/motor-notes'
import { noLoadCurrent } from '@/lib/machine/motor-part-load'
import { ratedPoint } from '@/lib/machine/motor-plate'
import { readerOf } from '@/lib/samples/samples'
import type { Ledger } from './ledger'
import { at } from './parameters'

type Said = Pick<Problem, 'code' | 'column' | 'count' | 'values'>

/** Samples of a running motor below its no-load current, counted once for the log, with the lowest of them. */
function belowNoLoad({ sensors, segmentation, model, values }: Ledger): Said[] {
  const { current } = sensors
  if (!current || sensors.power || !currentTellsTorque(model)) return []
  const offset = values[at('currentOffset')]
  const { noLoadCurrentA } = model.motor
  const readings = readerOf(current.values)
  let count = 0
  let running = 0
  let lowestA = noLoadCurrentA
  for (const { kind, from, to } of segmentation.steps) {
    if (kind === 'stopped' || kind === 'starting') continue
    running += to - from
    for (let i = from; i < to; i++) {
      const currentA = readings.at(i) - offset
      if (!(currentA < noLoadCurrentA)) continue
      count++
      if (currentA < lowestA) lowestA = currentA
    }
  }
  if (count === 0) return []
  const evidence = { noLoadCurrentA, lowestA, share: count / running }
  return [{ code: 'current-clamped-to-no-load', column: current.column, count, values: evidence }]
}

/** What the account had to assume of the motors and their drive, and where their readings fall below what a motor draws. */
export function motorProblems(ledger: Ledger): Said[] {
  const { sensors, model, plate } = ledger
  const { current, power, speed } = sensors
  const once = (code: string, values: Problem['values'] = {}, column: string | null = null): Said => ({
    code,
    column,
    count: 1,
    values,
  })
  const said = belowNoLoad(ledger)
  for (const { plate: motor } of motorsOf(plate)) {
    said.push(...motorNotes(motor).map(({ code, values }) => once(code, values)))
  }
  const isDefault = noLoadCurrent(ratedPoint(plate.motor).plate).origin === 'default'
  if (isDefault && !power) {
    said.push(once('default-no-load-current', { noLoadCurrentA: model.motor.noLoadCurrentA }))
  }
  if (model.drive && !speed) said.push(once('drive-without-speed'))
  if (current && !power && !currentTellsTorque(model)) {
    said.push(once('current-before-drive', {}, current.column))
  }
  return said
}
