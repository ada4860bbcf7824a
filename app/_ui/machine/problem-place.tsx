import type { Result } from '@/lib/contract/result'
import { count } from '../format'

type Problem = Pick<Result['log']['problems'][number], 'message' | 'line' | 'column' | 'count'>

/** How often and where a problem occurs, where its sentence does not say so itself. */
export function ProblemPlace({ problem }: { problem: Problem }) {
  const { message, line, column, count: times } = problem
  const places = [
    times > 1 && !new RegExp(`\\b${count(times)}\\b`).test(message) ? `${count(times)}×` : '',
    line !== null && !message.includes(`line ${line}`) ? `first in line ${line}` : '',
    column !== null && !message.includes(column) ? `column ${column}` : '',
  ].filter(Boolean)
  if (!places.length) return null
  return <span className="soft small"> ({places.join(', ')})</span>
}
