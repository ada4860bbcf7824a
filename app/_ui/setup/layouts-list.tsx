import type { LayoutAnswer } from '@/app/_server/inspection-shapes'
import { ConfirmDelete } from '../confirm-delete'
import { dateOnly } from '../format'
import { Scroll } from '../scroll'
import { readingLines } from '../upload/reading-lines'

const NOBODY = 'a script, or a person on this computer'
const SHOWN_COLUMNS = 6

function headerOf({ layout }: LayoutAnswer): string {
  const { header, kinds } = layout
  if (!header) return `no header, ${kinds.length} columns`
  const more = header.length - SHOWN_COLUMNS
  return `${header.slice(0, SHOWN_COLUMNS).join(' | ')}${more > 0 ? ` and ${more} more` : ''}`
}

/** How files of known layouts are read for this machine, each to be forgotten. */
export function LayoutsList({ layouts, timeZone }: { layouts: readonly LayoutAnswer[]; timeZone: string }) {
  return (
    <section className="sheet" aria-labelledby="layouts">
      <h2 id="layouts">Remembered layouts</h2>
      {layouts.length ? (
        <Scroll label="Remembered layouts">
          <table>
            <caption>
              Files with these columns are read so without a question. Logs that are stored stay as they are.
            </caption>
            <thead>
              <tr>
                <th scope="col">Columns of the file</th>
                <th scope="col">Understood as</th>
                <th scope="col">By</th>
                <th scope="col">On</th>
                <th scope="col">Last used</th>
                <td />
              </tr>
            </thead>
            <tbody>
              {layouts.map((one) => (
                <tr key={one.id}>
                  <th scope="row" className="layout-columns">
                    {headerOf(one)}
                    {one.fileName ? <span className="how">first said of {one.fileName}</span> : null}
                  </th>
                  <td className="layout-columns">
                    {readingLines(one.reading).map((line) => (
                      <div key={line}>{line}</div>
                    ))}
                  </td>
                  <td>{one.author ?? <span className="soft">{NOBODY}</span>}</td>
                  <td className="nowrap">{dateOnly(one.createdAt, timeZone)}</td>
                  <td className="nowrap">
                    {one.usedAt ? dateOnly(one.usedAt, timeZone) : <span className="soft">not yet</span>}
                  </td>
                  <td>
                    <ConfirmDelete
                      isPlain
                      verb="Forget"
                      path={one.url}
                      what={one.fileName ? `the layout of ${one.fileName}` : 'this layout'}
                      consequence="The next file of this layout is asked about again. Logs that are stored stay as they are."
                    />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      ) : (
        <p className="soft">
          None yet. Where a file leaves something open or its columns are changed, the answer can be
          remembered on the upload page.
        </p>
      )}
    </section>
  )
}
