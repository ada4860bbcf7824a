import type { FundingView } from '@/app/_server/views/funding-view'
import { namesInShort } from '../long-lists'

/** Cautions of all that is funded, each once, with the machines it is for. */
export function FundingCautions({ view }: { view: FundingView }) {
  const { cautions, names } = view
  return (
    <ul>
      {cautions.map(({ message, machineIds }) => (
        <li key={message}>
          {message} <span className="soft small">{namesInShort(machineIds.map((id) => names.get(id)))}</span>
        </li>
      ))}
    </ul>
  )
}
