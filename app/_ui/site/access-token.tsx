'use client'
import { useId, useState } from 'react'
import { accessToken } from '../api'

/** For servers that ask for an access token before anything is changed; kept in this tab only. */
export function AccessToken() {
  const id = useId()
  const [value, setValue] = useState('')
  const [said, setSaid] = useState('')
  return (
    <details className="sheet">
      <summary>Access token of this server</summary>
      <p className="soft" style={{ marginTop: '.5rem' }}>
        Needed only where the server was started with one. It is kept in this tab and forgotten when it is
        closed.
      </p>
      <div className="actions">
        <label htmlFor={id}>Token</label>
        <input
          id={id}
          type="password"
          autoComplete="off"
          value={value}
          onChange={(event) => setValue(event.target.value)}
        />
        <button
          type="button"
          onClick={() => {
            accessToken.set(value)
            setSaid(value ? 'Kept for this tab.' : 'Forgotten.')
            setValue('')
          }}
        >
          Use it
        </button>
        <span role="status">{said}</span>
      </div>
    </details>
  )
}
