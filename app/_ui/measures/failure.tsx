/** What went wrong with a form, told to whoever cannot see it too. */
export function Failure({ text }: { text: string | null }) {
  return text ? (
    <p className="error" role="alert">
      {text}
    </p>
  ) : null
}
