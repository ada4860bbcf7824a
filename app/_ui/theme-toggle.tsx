'use client'
import { useState } from 'react'

export type Theme = 'system' | 'light' | 'dark'
const ONE_YEAR = 'max-age=31536000'

/** Light, dark or as the device has it; kept in a cookie so that the server draws the right one at once. */
export function ThemeToggle({ initial }: { initial: Theme }) {
  const [theme, setTheme] = useState(initial)
  const choose = (next: Theme) => {
    setTheme(next)
    if (next === 'system') delete document.documentElement.dataset.theme
    else document.documentElement.dataset.theme = next
    // biome-ignore lint/suspicious/noDocumentCookie: the cookie store API is missing in some browsers in use
    document.cookie = `theme=${next}; path=/; ${ONE_YEAR}; samesite=lax`
  }
  return (
    <label className="theme small soft">
      <span className="sr">Colours </span>
      <select value={theme} onChange={(event) => choose(event.target.value as Theme)}>
        <option value="system">As the device</option>
        <option value="light">Light</option>
        <option value="dark">Dark</option>
      </select>
    </label>
  )
}
