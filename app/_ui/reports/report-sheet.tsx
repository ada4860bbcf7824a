import Link from 'next/link'
import { ShareBar } from '@/app/_charts/share-bar'
import { type Report, type ReportBar, type ReportSection, tablesOf } from '@/app/_server/reports/report'
import { percent } from '../format'
import { Legend } from '../legend'
import { PrintButton } from '../logging-plan/print-button'
import { PageHead } from '../page-head'
import { DESTINATIONS } from '../streams'
import { ReportTableView } from './report-table'

/** A report as a page made for print; on the screen with its tables as files. */
export function ReportSheet({ report }: { report: Report }) {
  const { title, subtitle, sections, kind, subject } = report
  const file = (rest: string) =>
    `/api/reports/tables?kind=${kind}&subject=${encodeURIComponent(subject)}&${rest}`
  return (
    <div className="report">
      <PageHead title={title} about={subtitle}>
        <PrintButton />
        <a className="button" href={file('format=xlsx')}>
          All tables, XLSX
        </a>
        <Link className="button" href="/reports">
          Reports
        </Link>
      </PageHead>
      {sections.map((section) => (
        <Section key={section.id} section={section} />
      ))}
      <section className="sheet screen-only" aria-labelledby="files">
        <h2 id="files">Tables as CSV</h2>
        <ul>
          {tablesOf(report).map(({ id, title: name }) => (
            <li key={id}>
              <a href={file(`format=csv&table=${id}`)}>{name}</a>
            </li>
          ))}
        </ul>
      </section>
    </div>
  )
}

function Section({ section }: { section: ReportSection }) {
  const { id, title, paragraphs, bars, facts, tables, list } = section
  return (
    <section className="sheet" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {paragraphs?.map((text) => (
        <p key={text}>{text}</p>
      ))}
      {bars?.length ? <Bars bars={bars} /> : null}
      {list?.length ? (
        <ul>
          {list.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      ) : null}
      {tables?.map((table) => (
        <ReportTableView key={table.id} table={table} />
      ))}
      {facts?.length ? (
        <dl className="pairs">
          {facts.map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      ) : null}
    </section>
  )
}

/** Shares of the input, one bar for each name, with what the colours mean. */
function Bars({ bars }: { bars: readonly ReportBar[] }) {
  return (
    <>
      <Legend label="Destinations" entries={bars[0].parts.map(({ key }) => DESTINATIONS[key])} />
      <table className="report-bars">
        <caption>Share of electric input at the meter</caption>
        <thead className="sr">
          <tr>
            <th scope="col">Name</th>
            <th scope="col">Shares</th>
            <th scope="col">Together</th>
          </tr>
        </thead>
        <tbody>
          {bars.map(({ name, parts }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>
                <ShareBar parts={parts} />
              </td>
              <td className="num">{percent(parts.reduce((sum, { share }) => sum + share, 0))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  )
}
