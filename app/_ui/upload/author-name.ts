const KEY = 'author-name'

/** What a person called themselves last on this device; nobody is signed in. */
export const authorName = {
  get: (): string => (typeof localStorage === 'undefined' ? '' : (localStorage.getItem(KEY) ?? '')),
  set: (name: string): void => {
    if (name) localStorage.setItem(KEY, name)
    else localStorage.removeItem(KEY)
  },
}
