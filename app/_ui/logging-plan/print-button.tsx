'use client'

/** Prints the page as it stands. */
export function PrintButton() {
  return (
    <button type="button" className="main" onClick={() => window.print()}>
      Print
    </button>
  )
}
