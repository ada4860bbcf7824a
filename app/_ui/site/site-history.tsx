import { dateTime } from '../format'
import { Scroll } from '../scroll'
import type { VersionChange } from './version-changes'

export interface SiteVersionView {
  readonly number: number
  readonly author: string | null
  readonly reason: string | null
  readonly correctsPast: boolean
  readonly at: string
  /** Null for the first that was kept: nothing to hold it against. */
  readonly changes: readonly VersionChange[] | null
}

/** Who changed what of the settings, when and why. */
export function SiteHistory({
  versions,
  timeZone,
}: {
  versions: readonly SiteVersionView[]
  timeZone: string
}) {
  return (
    <section className="sheet" aria-labelledby="site-history">
      <h2 id="site-history">What was changed</h2>
      {versions.length === 0 ? (
        <p className="nodata">Nothing yet.</p>
      ) : (
        <Scroll label="What was changed">
          <table>
            <caption>
              Latest first. Every state is kept in full: <a href="/api/site/history">all of them as JSON</a>.
            </caption>
            <thead>
              <tr>
                <th scope="col">Version</th>
                <th scope="col">When</th>
                <th scope="col">Who</th>
                <th scope="col">What</th>
                <th scope="col">Why</th>
                <th scope="col">Past days</th>
              </tr>
            </thead>
            <tbody>
              {versions.map((one) => (
                <tr key={one.number}>
                  <th scope="row">{one.number}</th>
                  <td>{dateTime(one.at, timeZone)}</td>
                  <td>{one.author ?? <span className="nodata">not said</span>}</td>
                  <td>
                    <Changes changes={one.changes} />
                  </td>
                  <td>{one.reason ?? <span className="nodata">not said</span>}</td>
                  <td>{one.correctsPast ? 'logged days cost otherwise since' : 'cost as before'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      )}
    </section>
  )
}

function Changes({ changes }: { changes: SiteVersionView['changes'] }) {
  if (!changes) return <span className="soft">the first that was kept</span>
  if (changes.length === 0) return <span className="soft">saved without a change</span>
  return (
    <ul className="bare">
      {changes.map(({ what, was, is }) => (
        <li key={what}>
          {what}: {was} → {is}
        </li>
      ))}
    </ul>
  )
}
