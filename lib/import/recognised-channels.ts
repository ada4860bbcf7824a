import type { Quantity } from '@/lib/contract/machine'
import { cellKind } from './cell-kind'
import type { ChannelPlan } from './channel-plan'
import { cellUnitOf, columnIndexes, headerUnit, sampleOf } from './column-facts'
import { columnKind } from './column-kind'
import type { ProblemLog } from './problem-log'
import { locationOfName, normaliseName, quantityOfName } from './quantity-words'
import type { Table } from './table'

/** Raw sensor signals: a pressure in mA or V needs a scale before it means anything. */
const RAW = /^(?:mA|mV|V|Volt|volts?)$/i

function isBinary(cells: readonly string[]): boolean {
  const kinds = new Set(cells.filter((cell) => cell !== ''))
  return kinds.size > 0 && [...kinds].every((cell) => /^(?:0|1|0[.,]0+|1[.,]0+)$/.test(cell))
}

interface Guess {
  readonly quantity: Quantity
  /** What the name says, where the unit says otherwise. */
  readonly other: Quantity | null
}

/** Name and unit together: the unit decides the quantity, the name rules strangers out. */
function guess(table: Table, index: number, problems: ProblemLog): Guess | null {
  const header = table.headers[index]
  const name = normaliseName(header.name)
  const cells = sampleOf(table, index)
  const kind = columnKind(cells)
  const said = quantityOfName(name)
  if (kind === 'text' && said !== null && said !== 'never' && said !== 'signal') {
    problems.add('channel-not-numeric', {
      line: table.headerIndex === null ? null : table.headerIndex + 1,
      column: header.column,
      values: {
        quantity: said,
        example: cells.find((cell) => cellKind(cell) === 'text')?.slice(0, 40) ?? null,
      },
    })
  }
  if (kind !== 'number' && kind !== 'boolean' && kind !== 'missing') return null
  if (said === 'never') return null
  const unit = headerUnit(table, index)
  const text = header.unitText
  if (said === 'signal' || kind === 'boolean') {
    return said === 'signal' && (kind === 'boolean' || isBinary(cells))
      ? { quantity: 'signal', other: null }
      : null
  }
  const raw = text !== null && RAW.test(text) && said !== null && said !== 'voltage'
  if (raw) {
    problems.add('raw-signal-needs-scale', {
      line: table.headerIndex === null ? null : table.headerIndex + 1,
      column: header.column,
      values: { unit: text, quantity: said },
    })
    return null
  }
  if (unit !== null) return { quantity: unit.quantity, other: said === unit.quantity ? null : said }
  // A unit that no channel can have (%, kWh, mA, mm) makes the column a stranger whatever its name.
  if (text !== null && !(said === 'power-factor' && /^(?:-|1)$/.test(text))) return null
  return said === null ? null : { quantity: said, other: null }
}

/** Channels found from header words and units, where the machine declares none. */
export function recognisedChannels(
  table: Table,
  timeColumns: ReadonlySet<number>,
  problems: ProblemLog,
): ChannelPlan[] {
  const plans: ChannelPlan[] = []
  for (const index of columnIndexes(table)) {
    if (timeColumns.has(index)) continue
    const found = guess(table, index, problems)
    if (found === null) continue
    const header = table.headers[index]
    if (found.other !== null) {
      problems.add('assumed-quantity', {
        line: table.headerIndex === null ? null : table.headerIndex + 1,
        column: header.column,
        values: { assumed: found.quantity, other: found.other },
      })
    }
    const written = headerUnit(table, index)
    plans.push({
      index,
      column: header.column,
      quantity: found.quantity,
      location: locationOfName(found.quantity, normaliseName(header.name)),
      unit: null,
      written,
      scale: null,
      accuracy: null,
      declared: false,
      cellUnit: cellUnitOf(sampleOf(table, index)),
      isSwitch: found.quantity === 'signal',
    })
  }
  return plans.length > 0 || table.headerIndex !== null ? plans : namelessChannels(table, timeColumns)
}

/** Without a header every numeric column is read; the values' ranges say later what it may be. */
function namelessChannels(table: Table, timeColumns: ReadonlySet<number>): ChannelPlan[] {
  return columnIndexes(table)
    .filter((index) => !timeColumns.has(index) && columnKind(sampleOf(table, index)) === 'number')
    .map((index) => ({
      index,
      column: table.headers[index].column,
      quantity: null,
      location: null,
      unit: null,
      written: headerUnit(table, index),
      scale: null,
      accuracy: null,
      declared: false,
      cellUnit: cellUnitOf(sampleOf(table, index)),
      isSwitch: false,
    }))
}
