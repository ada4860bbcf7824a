import Form from 'next/form'
import Link from 'next/link'
import { fundingAddress, type RefusedEntry } from '@/app/_server/views/funding-query'
import type { FundingView } from '@/app/_server/views/funding-view'

/** Budget, aim and filters; sent as the page's address. */
export function FundingForm({ view, refused }: { view: FundingView; refused: readonly RefusedEntry[] }) {
  const { query, site, lines, usualAim, without, names } = view
  return (
    <Form action="/funding" key={JSON.stringify(query)}>
      {refused.map(({ entry, expected, actual }) => (
        <div key={entry} className="note bad" role="alert">
          <p>
            Address, entry “{entry}”: expected {expected}, got “{actual}”. It is left out.
          </p>
        </div>
      ))}
      <div className="tools">
        <label>
          Budget, {site.currency}{' '}
          <input
            name="budget"
            inputMode="decimal"
            size={10}
            defaultValue={query.budget ?? ''}
            placeholder="no limit"
          />
        </label>
        <label>
          Most of{' '}
          <select name="aim" defaultValue={query.aim ?? ''}>
            <option value="">
              {usualAim === 'worth' ? 'net present value (usual)' : 'energy saved (usual)'}
            </option>
            <option value="worth">net present value</option>
            <option value="energy">energy saved</option>
          </select>
        </label>
        {lines.length ? (
          <label>
            Line{' '}
            <select name="line" defaultValue={query.line ?? ''}>
              <option value="">all</option>
              {lines.map((line) => (
                <option key={line}>{line}</option>
              ))}
            </select>
          </label>
        ) : null}
        <label>
          <input type="checkbox" name="quoted" value="1" defaultChecked={query.isQuotedOnly} /> only with
          costs of our own
        </label>
        <label>
          <input type="checkbox" name="spent" value="1" defaultChecked={query.isDecidedSpent} /> decided
          measures are paid from it
        </label>
        {without.map((id) => (
          <input key={id} type="hidden" name="without" value={id} />
        ))}
        <button type="submit" className="main">
          Find the best
        </button>
      </div>
      {without.length ? (
        <p className="small">
          Left out by hand:{' '}
          {without.map((id) => (
            <span key={id}>
              {names.get(id)}{' '}
              <Link
                href={fundingAddress(
                  query,
                  without.filter((one) => one !== id),
                )}
              >
                take in again<span className="sr">: {names.get(id)}</span>
              </Link>{' '}
            </span>
          ))}
        </p>
      ) : null}
    </Form>
  )
}
