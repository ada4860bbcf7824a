'use client'
import { useEffect } from 'react'

const QUESTION = 'What you entered here is not saved. Leave all the same?'

/** Asks before a page with unsaved entries is left: by closing it, by reloading it and by any link in it. */
export function useUnsaved(isDirty: boolean): void {
  useEffect(() => {
    if (!isDirty) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    const follow = (event: MouseEvent) => {
      const link = event.target instanceof Element ? event.target.closest('a[href]') : null
      if (!(link instanceof HTMLAnchorElement) || link.target === '_blank' || link.download) return
      const isElsewhere = event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0
      const isHere = link.pathname === window.location.pathname && link.hash !== ''
      if (isElsewhere || isHere || window.confirm(QUESTION)) return
      event.preventDefault()
      event.stopPropagation()
    }
    window.addEventListener('beforeunload', ask)
    document.addEventListener('click', follow, true)
    return () => {
      window.removeEventListener('beforeunload', ask)
      document.removeEventListener('click', follow, true)
    }
  }, [isDirty])
}
