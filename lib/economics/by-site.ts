import type { Site } from '@/lib/contract/site'

/** More keys than a fleet's pages ask for, months times plans; beyond it all is reckoned anew. */
const MOST_KEPT = 5000

/**
 * Remembers what a site's settings make of a key, as long as that object of settings lives: settings are never changed,
 * a change is another object. For what many machines ask for alike and calendars make dear.
 */
export function rememberedBySite<Value>(): (site: Site, key: string, make: () => Value) => Value {
  const bySite = new WeakMap<Site, Map<string, Value>>()
  return (site, key, make) => {
    let known = bySite.get(site)
    if (!known) {
      known = new Map()
      bySite.set(site, known)
    }
    const found = known.get(key)
    if (found !== undefined) return found
    if (known.size >= MOST_KEPT) known.clear()
    const value = make()
    known.set(key, value)
    return value
  }
}
