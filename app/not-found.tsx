import type { Metadata } from 'next'
import Link from 'next/link'

export const metadata: Metadata = { title: 'Not here' }

/** For an address that leads nowhere. */
export default function NotFound() {
  return (
    <div className="sheet empty">
      <h1>Not here</h1>
      <p style={{ marginTop: '.6rem' }}>
        There is no such page, machine or month. See <Link href="/machines">all machines</Link>.
      </p>
    </div>
  )
}
