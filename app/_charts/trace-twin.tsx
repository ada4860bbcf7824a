import { elapsed, number, reading } from '@/app/_ui/format'
import { Scroll } from '@/app/_ui/scroll'
import { PHASES } from '@/app/_ui/streams'
import type { Phase } from '@/lib/contract/result'
import { type Envelope, summarise, type TraceChannel } from './samples'

const ROWS = 120
const FINENESS = 1000

/** The chart in words and as a table: what is shown, at most so many rows of it. */
export function TraceTwin({
  channels,
  envelopes,
  shown,
  phases,
}: {
  channels: readonly TraceChannel[]
  envelopes: ReadonlyMap<string, Envelope>
  shown: { readonly from: number; readonly to: number }
  phases: readonly Phase[]
}) {
  const present = channels.filter((channel) => envelopes.has(channel.name))
  const lines = present.flatMap((channel) => {
    const envelope = envelopes.get(channel.name)
    const summary = envelope ? summarise(envelope, shown.from, shown.to) : null
    if (!summary) return [`${channel.label}: no data`]
    // Small values of a wide span are noise beyond this.
    const limit = Math.max(Math.abs(summary.min), Math.abs(summary.max)) / FINENESS
    const [min, max, mean] = [summary.min, summary.max, summary.mean].map((value) => reading(value, limit))
    return [`${channel.label} ${min} to ${max} ${channel.unit}, mean ${mean}`]
  })
  const clock = envelopes.get(present[0]?.name ?? '')?.timeS ?? []
  const inside = clock.flatMap((time, index) => (time >= shown.from && time <= shown.to ? [index] : []))
  const step = Math.max(1, Math.ceil(inside.length / ROWS))
  const rows = inside.filter((_, index) => index % step === 0)
  const kindAt = (time: number) => phases.find((phase) => time >= phase.startS && time < phase.endS)?.kind
  return (
    <>
      <p className="small soft" style={{ maxWidth: '140ch' }}>
        {lines.join('; ')}.
      </p>
      <details className="twin screen-only">
        <summary>As a table</summary>
        <Scroll label="Means at">
          <table>
            <caption>
              Means at {rows.length} times of what is shown; single samples once the window is short enough
            </caption>
            <thead>
              <tr>
                <th scope="col" className="num">
                  From first sample <span className="unit">h:mm:ss</span>
                </th>
                <th scope="col">Phase</th>
                {present.map((channel) => (
                  <th scope="col" className="num" key={channel.name}>
                    {channel.label} <span className="unit">{channel.unit}</span>
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map((index) => {
                const kind = kindAt(clock[index])
                return (
                  <tr key={clock[index]}>
                    <th scope="row" className="num">
                      {elapsed(clock[index])}
                    </th>
                    <td>{kind ? PHASES[kind].label : 'gap'}</td>
                    {present.map((channel) => (
                      <td className="num" key={channel.name}>
                        {number(envelopes.get(channel.name)?.mean[index])}
                      </td>
                    ))}
                  </tr>
                )
              })}
            </tbody>
          </table>
        </Scroll>
      </details>
    </>
  )
}
