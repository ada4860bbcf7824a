import type { ReactNode } from 'react'
import { Explain, type Explanation } from '../figure'

/** A number within a sentence or a cell that opens to how it was reached. */
export function Opened({
  children,
  explanation,
  more,
}: {
  children: ReactNode
  explanation: Explanation
  /** What stands beneath formula and inputs. */
  more?: ReactNode
}) {
  return (
    <details className="opened">
      <summary>
        {children} <span className="more">how</span>
      </summary>
      <Explain explanation={explanation} />
      {more}
    </details>
  )
}

/** A line to write on. */
export const Blank = ({ wide = false }: { wide?: boolean }) => (
  <span className={wide ? 'blank wide-blank' : 'blank'} />
)
