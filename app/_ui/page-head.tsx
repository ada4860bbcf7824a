import type { ReactNode } from 'react'

/** Title, one line of context, and what can be done from here. */
export function PageHead({
  title,
  about,
  children,
}: {
  title: string
  about?: ReactNode
  children?: ReactNode
}) {
  return (
    <div className="head">
      <div>
        <h1>{title}</h1>
        {about ? <p>{about}</p> : null}
      </div>
      {children ? <div className="actions">{children}</div> : null}
    </div>
  )
}
