'use client'
import { type ReactNode, type Ref, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react'

/** A stretch that scrolls by itself: reachable by keyboard whenever, and only when, there is something to scroll. */
export function Scroll({
  label,
  className = 'scroll',
  children,
  scroller,
}: {
  label: string
  className?: string
  children: ReactNode
  scroller?: Ref<HTMLDivElement>
}) {
  const own = useRef<HTMLDivElement>(null)
  const [overflows, setOverflows] = useState(false)
  const measure = useCallback(() => {
    const element = own.current
    if (!element) return
    setOverflows(
      element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 1,
    )
  }, [])
  // New rows or columns come by a render, a new width of the window or of a letter does not.
  useLayoutEffect(measure)
  useEffect(() => {
    const element = own.current
    if (!element) return
    const watcher = new ResizeObserver(measure)
    watcher.observe(element)
    if (element.firstElementChild) watcher.observe(element.firstElementChild)
    return () => watcher.disconnect()
  }, [measure])
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is for entries; this groups what scrolls
    <div
      ref={(element) => {
        own.current = element
        if (typeof scroller === 'function') scroller(element)
        else if (scroller) scroller.current = element
      }}
      className={className}
      role="group"
      aria-label={label}
      tabIndex={overflows ? 0 : undefined}
    >
      {children}
    </div>
  )
}
