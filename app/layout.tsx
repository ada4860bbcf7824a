import type { Metadata, Viewport } from 'next'
import { cookies } from 'next/headers'
import type { ReactNode } from 'react'
import { NavBar } from '@/app/_ui/nav-bar'
import './globals.css'
import './_ui/styles/shell.css'
import './_ui/styles/data.css'
import './_ui/styles/forms.css'
import './_ui/styles/charts.css'
import './_ui/styles/explain.css'
import './_ui/styles/settings.css'
import './_ui/styles/upload.css'
import './_ui/styles/print.css'
import './_ui/styles/reports.css'

export const metadata: Metadata = {
  title: { default: 'Tankward', template: '%s · Tankward' },
  description: 'Where a hydraulic power unit’s energy goes, what it costs, and which fix pays.',
}

export const viewport: Viewport = { width: 'device-width', initialScale: 1 }

export default async function RootLayout({ children }: { children: ReactNode }) {
  const chosen = (await cookies()).get('theme')?.value
  const theme = chosen === 'light' || chosen === 'dark' ? chosen : 'system'
  return (
    <html lang="en" data-theme={theme === 'system' ? undefined : theme}>
      <body>
        <a className="skip" href="#content">
          Skip to content
        </a>
        <NavBar theme={theme} />
        <main id="content">{children}</main>
        <footer className="foot">
          Tankward advises. Local codes, the machine’s manual and a qualified person decide. Before any
          circuit is touched: lock out, relieve stored energy, verify.
        </footer>
      </body>
    </html>
  )
}
