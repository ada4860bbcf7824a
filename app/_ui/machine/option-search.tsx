import { SearchCurve } from '@/app/_charts/search-curve'
import { percent } from '../format'
import { Scroll } from '../scroll'
import { flatText, type Search, searches } from './option-flat'
import type { Option } from './option-groups'
import { settingText, settingWords } from './option-setting'

const numeric = (value: Option['settings'][string] | undefined) => (typeof value === 'number' ? value : null)

/** How flat the best is along each setting that was searched: a curve, a sentence and a table. */
export function OptionSearch({
  found,
  moved,
  given,
}: {
  found: Option
  moved: Option | null
  /** Names of the settings that a person moved. */
  given: readonly string[]
}) {
  // Along the only one that was moved nothing else changes: all that was tried of it stays in view.
  const isAlone = (setting: string) => given.length === 1 && given[0] === setting
  const all = searches(
    moved
      ? [
          ...found.searched.filter(({ setting }) => isAlone(setting)),
          ...moved.searched.filter(({ setting }) => !isAlone(setting)),
        ]
      : found.searched,
  )
  if (!all.length) return null
  return (
    <div>
      <h3>How much hangs on the settings</h3>
      <p className="small soft">
        Each along by itself, the option’s other settings at their best. Filled: the machine could work with
        it; hollow: it could not. Shaded: within one point of the most. Dashed: found best
        {moved ? '; solid: as set above' : ''}.
      </p>
      <div className="searches">
        {all.map((search) => (
          <Along key={search.setting} search={search} found={found} moved={moved} />
        ))}
      </div>
    </div>
  )
}

function Along({ search, found, moved }: { search: Search; found: Option; moved: Option | null }) {
  const { setting, tried } = search
  const { name, unit } = settingWords(setting)
  return (
    <figure className="along">
      <figcaption>
        <b>{name}.</b> {flatText(search)}
      </figcaption>
      <SearchCurve
        search={search}
        found={numeric(found.settings[setting])}
        moved={numeric(moved?.settings[setting])}
      />
      <details className="twin">
        <summary>As a table</summary>
        <Scroll label={`Saving along ${name.toLowerCase()}`}>
          <table>
            <caption className="sr">Saving along {name.toLowerCase()}</caption>
            <thead>
              <tr>
                <th scope="col" className="num">
                  {name} <span className="unit">{unit}</span>
                </th>
                <th scope="col" className="num">
                  Saved <span className="unit">% of input</span>
                </th>
                <th scope="col">Could the machine work with it</th>
              </tr>
            </thead>
            <tbody>
              {tried.map(({ value, savedShare, feasible }) => (
                <tr key={value}>
                  <th scope="row" className="num">
                    {settingText(setting, value).replace(` ${unit}`, '')}
                  </th>
                  <td className="num">{percent(savedShare, 3).replace(' %', '')}</td>
                  <td>{feasible ? 'yes' : 'no'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      </details>
    </figure>
  )
}
