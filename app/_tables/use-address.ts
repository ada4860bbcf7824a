'use client'
import { useSearchParams } from 'next/navigation'
import { useState } from 'react'
import { type AddressState, readAddress, writeAddress } from './address-state'

/** A table's state, and how a part of it is changed. */
export interface TableAddress {
  readonly state: AddressState
  readonly change: (part: Partial<AddressState>) => void
}

/** Keeps a table's state in the address of the page, so that what is shown can be sent as a link. */
export function useAddress(columnIds: readonly string[]): TableAddress {
  const params = useSearchParams()
  const [state, setState] = useState(() => readAddress(new URLSearchParams(params), columnIds))
  const change = (part: Partial<AddressState>) => {
    const next = { ...state, ...part }
    setState(next)
    const query = writeAddress(new URLSearchParams(window.location.search), next, columnIds).toString()
    window.history.replaceState(null, '', query ? `?${query}` : window.location.pathname)
  }
  return { state, change }
}
