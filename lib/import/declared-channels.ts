import type { ChannelDeclaration } from '@/lib/contract/machine'
import type { ChannelPlan } from './channel-plan'
import { cellUnitOf, columnIndexes, headerUnit, sampleOf } from './column-facts'
import { columnKind } from './column-kind'
import { importError } from './fail'
import { readHeaderCell } from './header-cell'
import type { ProblemLog } from './problem-log'
import { locationOfName, normaliseName } from './quantity-words'
import type { Table } from './table'
import { isUnitOf } from './unit-of'

function loose(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[\s_\ufffd°º]+/g, '')
}

function findColumn(table: Table, taken: ReadonlySet<number>, wanted: string): number {
  const trimmed = wanted.replace(/\s+/g, ' ').trim()
  const free = (index: number): boolean => !taken.has(index)
  const exact = table.headers.findIndex((header, i) => free(i) && header.column === trimmed)
  if (exact >= 0) return exact
  const close = table.headers.findIndex((header, i) => free(i) && loose(header.column) === loose(trimmed))
  if (close >= 0) return close
  // A name whose accents were lost on the way between two encodings.
  const bare = (text: string): string =>
    text
      .normalize('NFC')
      .toLowerCase()
      .replace(/[\s_]|[^ -~]/g, '')
  const ascii = table.headers
    .map((header, i) => ({ header, i }))
    .filter(({ header, i }) => free(i) && bare(header.column) === bare(trimmed))
  if (ascii.length === 1 && bare(trimmed) !== '') return ascii[0].i
  // A name without its unit finds its column where only one carries that name.
  const names = new Set([loose(trimmed), loose(readHeaderCell(trimmed).name)])
  const named = table.headers
    .map((header, i) => ({ header, i }))
    .filter(({ header, i }) => free(i) && names.has(loose(header.name)))
  return named.length === 1 ? named[0].i : -1
}

function plan(
  table: Table,
  index: number,
  channel: ChannelDeclaration,
  problems: ProblemLog,
  fileName: string,
): ChannelPlan {
  const header = table.headers[index]
  const written = headerUnit(table, index)
  const { unit, quantity } = channel
  if (unit !== undefined && !isUnitOf(quantity, unit)) {
    throw importError('channel-unit-mismatch', { fileName, column: header.column, quantity, unit })
  }
  if (
    unit !== undefined &&
    written !== null &&
    channel.scale === undefined &&
    written.quantity === quantity
  ) {
    if (written.unit !== unit || written.factor !== 1) {
      problems.add('unit-differs-from-header', {
        line: table.headerIndex === null ? null : table.headerIndex + 1,
        column: header.column,
        values: { declared: unit, header: header.unitText },
      })
    }
  }
  const named = header.unitText !== null && quantity !== 'signal' && quantity !== 'power-factor'
  if (unit === undefined && named && written?.quantity !== quantity) {
    const values = { fileName, column: header.column, quantity, unit: header.unitText }
    throw importError('channel-unit-unknown', values)
  }
  return {
    index,
    column: header.column,
    quantity,
    location: channel.location ?? locationOfName(quantity, normaliseName(header.name)),
    unit: unit ?? null,
    written:
      unit === undefined && channel.scale === undefined && written?.quantity === quantity ? written : null,
    scale: channel.scale ?? null,
    accuracy: channel.accuracy ?? null,
    ...(channel.evidence ? { evidence: channel.evidence } : {}),
    declared: true,
    cellUnit: cellUnitOf(sampleOf(table, index)),
    isSwitch: quantity === 'signal' || columnKind(sampleOf(table, index)) === 'boolean',
  }
}

/**
 * The machine's own declaration of its channels, matched to the file's columns by name.
 * @param absent takes the columns that the file does not have, where others of the recording may; null
 *   where it is the only one
 * @throws TankwardError naming the first column that the file does not have, with those it has
 */
export function declaredChannels(
  table: Table,
  channels: readonly ChannelDeclaration[],
  timeColumns: ReadonlySet<number>,
  problems: ProblemLog,
  fileName: string,
  absent: string[] | null,
): ChannelPlan[] {
  const taken = new Set(timeColumns)
  const nameless = table.headerIndex === null
  const free = columnIndexes(table).filter((index) => !timeColumns.has(index))
  const inOrder =
    nameless &&
    free.length === channels.length &&
    channels.every((c) => !/^column \d+$/i.test(c.column.trim()))
  if (inOrder) {
    const order = channels.map((channel) => channel.column).join(' | ')
    problems.add('assumed-columns-in-order', { line: table.firstDataIndex + 1, values: { columns: order } })
  }
  return channels.flatMap((channel, i) => {
    const index = inOrder ? free[i] : findColumn(table, taken, channel.column)
    if (index < 0) {
      const known = findColumn(table, new Set(timeColumns), channel.column)
      if (absent !== null && known < 0) {
        absent.push(channel.column)
        return []
      }
      throw importError(known >= 0 ? 'channel-column-twice' : 'channel-column-not-found', {
        fileName,
        line: table.headerIndex === null ? null : table.headerIndex + 1,
        column: channel.column,
        columns: table.headers
          .map((header) => header.column)
          .join(' | ')
          .slice(0, 600),
      })
    }
    taken.add(index)
    const planned = plan(table, index, channel, problems, fileName)
    return inOrder ? { ...planned, column: channel.column.trim() } : planned
  })
}
