import Link from 'next/link'
import type { ProofLogRow } from '@/lib/contract/proof'
import { count, dateOnly, number, rough } from '../format'
import { Scroll } from '../scroll'

/** A sum below this share of a log's energy is what rounding leaves. */
const NIL_SHARE = 1e-6

/** The same as the two pictures, as a table; every row opens its source log. */
export function ProofRows({
  rows,
  names,
  machineId,
  timeZone,
}: {
  rows: readonly ProofLogRow[]
  names: ReadonlyMap<string, string>
  machineId: string
  timeZone: string
}) {
  const most = Math.max(...rows.map(({ expectedKWh }) => expectedKWh))
  const shownSum = (kWh: number) => (Math.abs(kWh) < NIL_SHARE * most ? 0 : kWh)
  return (
    <details className="twin">
      <summary>Both as a table</summary>
      <Scroll label="Used and expected energy by log">
        <table style={{ minInlineSize: '42rem' }}>
          <thead>
            <tr>
              <th scope="col">Log</th>
              <th scope="col">Date</th>
              <th scope="col">Side</th>
              <th scope="col" className="num">
                Units
              </th>
              <th scope="col" className="num">
                Expected <span className="unit">kWh</span>
              </th>
              <th scope="col" className="num">
                Used <span className="unit">kWh</span>
              </th>
              <th scope="col" className="num">
                Running sum <span className="unit">kWh, up = worse</span>
              </th>
              <th scope="col" className="num">
                Rule, up / down <span className="unit">limit 5</span>
              </th>
              <th scope="col">Change told</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.logId}>
                <th scope="row" className="nowrap">
                  <Link href={`/machines/${machineId}?log=${row.logId}`}>
                    {names.get(row.logId) ?? 'log'}
                  </Link>
                </th>
                <td className="nowrap">{dateOnly(row.at, timeZone)}</td>
                <td>{row.side === 'baseline' ? 'before' : 'after'}</td>
                <td className="num">{count(row.units)}</td>
                <td className="num">{rough(row.expectedKWh)}</td>
                <td className="num">{rough(row.actualKWh)}</td>
                <td className="num">{rough(shownSum(row.cusumKWh))}</td>
                <td className="num">
                  {number(row.above, 2)} / {number(row.below, 2)}
                </td>
                <td>{row.alarm ?? '–'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </details>
  )
}
