'use client'
import { useRouter } from 'next/navigation'
import { useEffect, useTransition } from 'react'

const EVERY_MS = 1500

/** Asks for the page again while something is still being worked on; never before the last answer is there. */
export function Refresher() {
  const router = useRouter()
  const [isAsking, ask] = useTransition()
  useEffect(() => {
    if (isAsking) return
    const timer = setTimeout(() => ask(() => router.refresh()), EVERY_MS)
    return () => clearTimeout(timer)
  }, [router, isAsking])
  return null
}
