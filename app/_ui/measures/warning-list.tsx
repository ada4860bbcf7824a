/** Why a proof is to be read with care. */
export function WarningList({ warnings }: { warnings: readonly { code: string; message: string }[] }) {
  if (warnings.length === 0) return null
  return (
    <div className="note warn">
      <h3>To know</h3>
      <ul>
        {warnings.map(({ code, message }) => (
          <li key={`${code}-${message}`}>{message}</li>
        ))}
      </ul>
    </div>
  )
}
