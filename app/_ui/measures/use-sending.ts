'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { send } from '../api'

/** Sends what a form holds and shows the page anew; a refusal becomes a sentence beside the button. */
export function useSending() {
  const router = useRouter()
  const [isBusy, setBusy] = useState(false)
  const [failure, setFailure] = useState<string | null>(null)
  const sending = async (
    method: 'POST' | 'PUT' | 'DELETE',
    path: string,
    body: unknown,
    then: (answer: unknown) => void = () => {},
  ): Promise<void> => {
    setBusy(true)
    setFailure(null)
    try {
      then(await send(method, path, body))
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(false)
    }
  }
  return { isBusy, failure, sending }
}
