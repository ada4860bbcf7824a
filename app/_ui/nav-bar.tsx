'use client'
import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { type Theme, ThemeToggle } from './theme-toggle'

const PAGES = [
  { href: '/months', label: 'Month' },
  { href: '/machines', label: 'Machines' },
  { href: '/funding', label: 'Funding' },
  { href: '/measures', label: 'Measures' },
  { href: '/reports', label: 'Reports' },
  { href: '/upload', label: 'Upload' },
  { href: '/site', label: 'Site' },
]

/** The bar on every page. */
export function NavBar({ theme }: { theme: Theme }) {
  const path = usePathname()
  return (
    <header className="bar">
      <Link href="/" className="brand">
        <svg viewBox="0 0 24 20" width="24" height="20" aria-hidden="true">
          <path d="M2 8v10h20V8" fill="none" stroke="currentColor" strokeWidth="2" />
          <path d="M12 1v11" stroke="var(--stream-over-relief)" strokeWidth="2.5" />
          <path d="M7.5 9.5 12 15l4.5-5.5z" fill="var(--stream-over-relief)" />
        </svg>
        Tankward
      </Link>
      <nav aria-label="Pages">
        {PAGES.map(({ href, label }) => (
          <Link key={href} href={href} aria-current={path.startsWith(href) ? 'page' : undefined}>
            {label}
          </Link>
        ))}
      </nav>
      <ThemeToggle initial={theme} />
    </header>
  )
}
