'use client'
import {
  type ColumnDef,
  columnFilteringFeature,
  columnVisibilityFeature,
  createFilteredRowModel,
  createSortedRowModel,
  filterFn_equalsString,
  filterFn_includesString,
  globalFilteringFeature,
  rowSortingFeature,
  sortFn_alphanumeric,
  sortFn_basic,
  tableFeatures,
  useTable,
} from '@tanstack/react-table'
import { useVirtualizer } from '@tanstack/react-virtual'
import { useMemo, useRef } from 'react'
import { count } from '@/app/_ui/format'
import { Scroll } from '@/app/_ui/scroll'
import type { Column } from './column'
import { entriesOf } from './entries'
import { GroupRow, type MeasuredRow } from './group-row'
import { ColumnTools, FilterTools } from './table-tools'
import { type TableAddress, useAddress } from './use-address'

const features = tableFeatures({
  columnFilteringFeature,
  globalFilteringFeature,
  rowSortingFeature,
  columnVisibilityFeature,
  filteredRowModel: createFilteredRowModel(),
  sortedRowModel: createSortedRowModel(),
  filterFns: { includesString: filterFn_includesString, equalsString: filterFn_equalsString },
  sortFns: { alphanumeric: sortFn_alphanumeric, basic: sortFn_basic },
})

/** Above this many rows only those in view are in the page. */
const VIRTUAL_FROM = 150
const ROW_HEIGHT = 33

/**
 * The one table that sorts, searches, filters and lets columns be chosen; its state lives in the address.
 * Rows are plain data; `columns` must be stable between renders. With `address` its state is another's,
 * who also shows the filters.
 */
export function DataTable<Row extends object>({
  caption,
  columns,
  rows,
  rowKey,
  address,
}: {
  caption: string
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey: (row: Row) => string
  address?: TableAddress
}) {
  const ids = useMemo(() => columns.map((column) => column.id), [columns])
  const own = useAddress(ids)
  const { state, change } = address ?? own
  const visible = state.columns ?? columns.filter((column) => !column.hidden).map((column) => column.id)

  const definitions = useMemo(
    () =>
      columns.map(
        (column): ColumnDef<typeof features, Row> => ({
          id: column.id,
          accessorFn: (row) => column.value(row) ?? undefined,
          header: column.header,
          cell: (context) => column.cell(context.row.original),
          sortFn: column.numeric ? 'basic' : 'alphanumeric',
          filterFn: 'equalsString',
          sortUndefined: 'last',
          enableGlobalFilter: !column.numeric,
        }),
      ),
    [columns],
  )
  const data = useMemo(() => [...rows], [rows])
  const table = useTable({
    features,
    columns: definitions,
    data,
    getRowId: rowKey,
    globalFilterFn: 'includesString',
    state: {
      sorting: state.sort ? [state.sort] : [],
      globalFilter: state.search,
      columnFilters: Object.entries(state.choices).map(([id, value]) => ({ id, value })),
      columnVisibility: Object.fromEntries(ids.map((id) => [id, visible.includes(id)])),
    },
  })
  const shown = table.getRowModel().rows
  const grouping = columns.find((column) => column.id === state.group && column.group)
  const entries = useMemo(
    () => entriesOf(shown, grouping ? (row) => textOf(grouping.value(row.original)) : null, 'not stated'),
    [shown, grouping],
  )
  const scroller = useRef<HTMLDivElement>(null)
  const isVirtual = entries.length > VIRTUAL_FROM
  const virtualizer = useVirtualizer({
    count: entries.length,
    enabled: isVirtual,
    getScrollElement: () => scroller.current,
    estimateSize: () => ROW_HEIGHT,
    overscan: 20,
  })
  const items = virtualizer.getVirtualItems()
  const inView = isVirtual ? items.map((item) => ({ entry: entries[item.index], index: item.index })) : null
  const drawn = inView ?? entries.map((entry, index) => ({ entry, index }))
  const before = isVirtual ? (items[0]?.start ?? 0) : 0
  const after = isVirtual ? virtualizer.getTotalSize() - (items.at(-1)?.end ?? 0) : 0
  // Rows of two lines are higher than the others: how far there is to scroll is known once they were seen.
  const measured = (index: number): MeasuredRow =>
    isVirtual ? { ref: virtualizer.measureElement, 'data-index': index } : {}
  const byId = new Map(columns.map((column) => [column.id, column]))

  return (
    <div>
      <div className="tools">
        {address ? null : <FilterTools columns={columns} rows={rows} state={state} onChange={change} />}
        <ColumnTools columns={columns} state={state} visible={visible} onChange={change} />
      </div>
      <p className="small soft" aria-live="polite">
        {shown.length === rows.length
          ? `${count(rows.length)} ${rows.length === 1 ? 'row' : 'rows'}`
          : `${count(shown.length)} of ${count(rows.length)} rows`}
      </p>
      <Scroll className="grid-scroll" scroller={scroller} label={caption}>
        <table aria-rowcount={entries.length + 1}>
          <caption className="sr">{caption}</caption>
          <thead>
            {table.getHeaderGroups().map((group) => (
              <tr key={group.id}>
                {group.headers.map((header) => {
                  const column = byId.get(header.column.id)
                  const sorted = state.sort?.id === header.column.id ? state.sort : null
                  return (
                    <th
                      key={header.id}
                      scope="col"
                      className={column?.numeric ? 'num' : undefined}
                      title={column?.help}
                      aria-sort={sorted ? (sorted.desc ? 'descending' : 'ascending') : undefined}
                    >
                      <button
                        type="button"
                        onClick={() =>
                          change({
                            sort: {
                              id: header.column.id,
                              desc: sorted ? !sorted.desc : Boolean(column?.numeric),
                            },
                          })
                        }
                      >
                        {column?.header}
                        <span aria-hidden="true">{sorted ? (sorted.desc ? ' ↓' : ' ↑') : ''}</span>
                        {column?.unit ? <span className="unit">{column.unit}</span> : null}
                      </button>
                    </th>
                  )
                })}
              </tr>
            ))}
          </thead>
          <tbody>
            <Spacer height={before} span={visible.length} />
            {drawn.map(({ entry, index }) =>
              entry.kind === 'group' ? (
                <GroupRow
                  key={`group ${entry.name}`}
                  name={entry.name}
                  rows={entry.items.map((item) => item.original)}
                  columns={columns.filter((column) => visible.includes(column.id))}
                  rowIndex={index + 2}
                  measure={measured(index)}
                />
              ) : (
                <tr key={entry.item.id} aria-rowindex={index + 2} {...measured(index)}>
                  {entry.item.getVisibleCells().map((cell, nth) => {
                    const className = byId.get(cell.column.id)?.numeric ? 'num' : undefined
                    return nth === 0 ? (
                      <th scope="row" key={cell.id} className={className}>
                        <table.FlexRender cell={cell} />
                      </th>
                    ) : (
                      <td key={cell.id} className={className}>
                        <table.FlexRender cell={cell} />
                      </td>
                    )
                  })}
                </tr>
              ),
            )}
            <Spacer height={after} span={visible.length} />
          </tbody>
        </table>
      </Scroll>
      {shown.length === 0 ? (
        <p className="nodata">Nothing matches. Clear the search or the choices above.</p>
      ) : null}
    </div>
  )
}

const textOf = (value: string | number | null) => (value === null ? null : String(value))

function Spacer({ height, span }: { height: number; span: number }) {
  if (height <= 0) return null
  return (
    <tr>
      <td colSpan={span} style={{ height, padding: 0, border: 0 }} />
    </tr>
  )
}
