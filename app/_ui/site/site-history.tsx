import { dateTime } from '../format'
import { Scroll } from '../scroll'

export interface SiteVersionView {
  readonly number: number
  readonly author: string | null
  readonly reason: string | null
  readonly correctsPast: boolean
  readonly at: string
}

/** Who changed the settings, when and why. */
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
                <th scope="col">When</th>
                <th scope="col">Who</th>
                <th scope="col">Why</th>
                <th scope="col">Past days</th>
              </tr>
            </thead>
            <tbody>
              {versions.map((one) => (
                <tr key={one.number}>
                  <th scope="row">{dateTime(one.at, timeZone)}</th>
                  <td>{one.author ?? <span className="nodata">not said</span>}</td>
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
