/** The colour swatch of a destination or phase; decoration only, its name always stands beside it. */
export function Key({ token }: { token: string }) {
  return <span className="key" aria-hidden="true" style={{ background: `var(${token})` }} />
}
