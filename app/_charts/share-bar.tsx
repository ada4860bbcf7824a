import { percent } from '@/app/_ui/format'
import { DESTINATIONS, type DestinationKey } from '@/app/_ui/streams'

/** Shares of one whole as a bar; its text names every part, so it needs no colour to be read. */
export function ShareBar({ parts }: { parts: readonly { key: DestinationKey; share: number }[] }) {
  const shown = parts.filter((part) => part.share > 0)
  const text = shown.map((part) => `${DESTINATIONS[part.key].label} ${percent(part.share)}`).join(', ')
  return (
    <span className="meter" role="img" aria-label={text || 'no data'} title={text}>
      {shown.map((part) => (
        <span
          key={part.key}
          style={{ width: `${part.share * 100}%`, background: `var(${DESTINATIONS[part.key].token})` }}
        />
      ))}
    </span>
  )
}
