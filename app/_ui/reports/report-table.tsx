import { Fragment } from 'react'
import type { Cell, ReportColumn, ReportTable } from '@/app/_server/reports/report'
import { count, estimateParts, NO_DATA, rough } from '../format'
import { BASIS_MARKS } from '../labels'
import { Scroll } from '../scroll'

/** A report's table on paper: units in the header, intervals beside values, a mark for the basis. */
export function ReportTableView({ table }: { table: ReportTable }) {
  const { title, columns, rows, totalRows = 0 } = table
  if (rows.length === 0) return <p className="nodata">{title}: nothing.</p>
  // Rows of a report have no id; they never change while it is shown.
  const keyed = rows.map((row, nth) => ({ row, key: `row ${nth}`, isTotal: nth >= rows.length - totalRows }))
  const hasEstimates = columns.some(({ isEstimate }) => isEstimate)
  return (
    <>
      <Scroll label={title}>
        <table className="stacks">
          <caption>{title}</caption>
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={`${column.header} ${column.unit}`} scope="col" className={alignment(column)}>
                  {column.header} {column.unit ? <span className="unit">{column.unit}</span> : null}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {keyed.map(({ row, key: rowKey, isTotal }) => (
              <tr key={rowKey} className={isTotal ? 'total' : undefined}>
                {row.map((cell, k) => {
                  const key = `${columns[k].header} ${columns[k].unit}`
                  return k === 0 ? (
                    <th scope="row" key={key} className={breaking(cell)}>
                      <CellText cell={cell} column={columns[k]} />
                    </th>
                  ) : (
                    <td
                      key={key}
                      className={
                        alignment(columns[k]) ?? [wide(cell), breaking(cell)].filter(Boolean).join(' ')
                      }
                      data-label={[columns[k].header, columns[k].unit].filter(Boolean).join(', ')}
                    >
                      <CellText cell={cell} column={columns[k]} />
                    </td>
                  )
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {hasEstimates ? (
        <p className="small soft foot-note">
          ± and ranges are 95 % intervals. Behind a figure: e estimated from a model fed by sensors, d from
          defaults alone; without a mark it is measured.
        </p>
      ) : null}
    </>
  )
}

const alignment = ({ isEstimate, isNumber, isCount }: ReportColumn) =>
  isEstimate || isNumber || isCount ? 'num' : undefined

/** Sentences have a line of their own on a phone; a word or two stands beside others. */
const MOST_BESIDE = 20
const wide = (cell: Cell) => (typeof cell === 'string' && cell.length > MOST_BESIDE ? 'whole' : undefined)

/** Words that fit no column of a page: file names, checksums. */
const LONG_WORD = /\S{20}/

const breaking = (cell: Cell) =>
  typeof cell === 'string' && LONG_WORD.test(cell) ? 'wrap-anywhere' : undefined

/** File names break behind what joins their parts, before they break anywhere. */
function LongWords({ text }: { text: string }) {
  let at = 0
  return text.split(/(?<=[_.-])(?=[^_.-])/).map((part) => {
    const key = at
    at += part.length
    return (
      <Fragment key={key}>
        {key > 0 ? <wbr /> : null}
        {part}
      </Fragment>
    )
  })
}

/** Nothing that a report is read for; printed in full it is a row of noughts. */
const NEGLIGIBLE = 0.0005

function CellText({ cell, column }: { cell: Cell; column: ReportColumn }) {
  if (cell === null) return <span className="nodata">{NO_DATA}</span>
  if (typeof cell === 'string') return LONG_WORD.test(cell) ? <LongWords text={cell} /> : cell
  if (typeof cell === 'number') return column.isCount ? count(cell) : rough(cell)
  const most = Math.max(Math.abs(cell.low), Math.abs(cell.high))
  if (most > 0 && most < NEGLIGIBLE) return <span className="soft">below 0.001</span>
  const { value, interval } = estimateParts(cell)
  return (
    <>
      {value}{' '}
      <span className="pm">
        {interval}
        <span className="basis">{BASIS_MARKS[cell.basis]}</span>
      </span>
    </>
  )
}
