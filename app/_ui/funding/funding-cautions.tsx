import type { FundingView } from '@/app/_server/views/funding-view'
import { count } from '../format'

const MOST_NAMES = 6

/** Cautions of all that is funded, each once, with the machines it is for. */
export function FundingCautions({ view }: { view: FundingView }) {
  const { cautions, names } = view
  return (
    <ul>
      {cautions.map(({ message, machineIds }) => (
        <li key={message}>
          {message}{' '}
          <span className="soft small">
            {machineIds
              .slice(0, MOST_NAMES)
              .map((id) => names.get(id))
              .join(', ')}
            {machineIds.length > MOST_NAMES ? ` and ${count(machineIds.length - MOST_NAMES)} more` : ''}
          </span>
        </li>
      ))}
    </ul>
  )
}
