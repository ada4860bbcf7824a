/** What an error answer of the API says, in words (RFC 9457 problem documents). */
export async function problemOf(response: Response): Promise<string> {
  const text = await response.text()
  return problemText(text, response.status)
}

export function problemText(body: string, status: number): string {
  if (status === 401) return 'This server asks for an access token. Enter it on the Site page.'
  try {
    const problem = JSON.parse(body) as { title?: string; detail?: string }
    const said = [problem.title, problem.detail].filter(Boolean).join(': ')
    if (said) return said
  } catch {
    // Not a problem document: the status says what is known.
  }
  return `The server answered ${status}.`
}

const TOKEN_KEY = 'access-token'

/** The access token a person entered in this tab, where the server asks for one. */
export const accessToken = {
  get: () => (typeof sessionStorage === 'undefined' ? null : sessionStorage.getItem(TOKEN_KEY)),
  set: (token: string) =>
    token ? sessionStorage.setItem(TOKEN_KEY, token) : sessionStorage.removeItem(TOKEN_KEY),
}

export function authHeaders(): Record<string, string> {
  const token = accessToken.get()
  return token ? { authorization: `Bearer ${token}` } : {}
}

/** Sends JSON and gives back the answer; an error answer becomes an Error in words. */
export async function send(
  method: 'POST' | 'PUT' | 'DELETE',
  path: string,
  json?: unknown,
): Promise<unknown> {
  const response = await fetch(path, {
    method,
    headers: { ...authHeaders(), ...(json === undefined ? {} : { 'content-type': 'application/json' }) },
    body: json === undefined ? undefined : JSON.stringify(json),
  }).catch(() => {
    throw new Error('The server cannot be reached. Nothing was changed.')
  })
  if (!response.ok) throw new Error(await problemOf(response))
  const text = await response.text()
  return text ? JSON.parse(text) : null
}
