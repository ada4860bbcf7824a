'use client'
import { useRouter } from 'next/navigation'
import { useEffect } from 'react'

const EVERY_MS = 1500

/** Asks for the page again while something is still being worked on. */
export function Refresher() {
  const router = useRouter()
  useEffect(() => {
    const timer = setInterval(() => router.refresh(), EVERY_MS)
    return () => clearInterval(timer)
  }, [router])
  return null
}
