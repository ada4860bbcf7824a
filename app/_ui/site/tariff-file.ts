import type { z } from 'zod'
import { type Site, siteSchema } from '@/lib/contract/site'

/** What stands at a place of a file, as text. */
function actualAt(json: unknown, path: readonly PropertyKey[]): string {
  let at: unknown = json
  for (const key of path) {
    if (typeof at !== 'object' || at === null) return 'nothing'
    at = Reflect.get(at, key)
  }
  return at === undefined ? 'nothing' : JSON.stringify(at)
}

/** What is wrong with a file of tariffs and calendars: each place with what was expected there and what stands there. */
export function fileErrors(error: z.ZodError, json: unknown): string[] {
  return error.issues.map((issue) => {
    const place = issue.path.length > 0 ? issue.path.map(String).join('.') : 'the whole'
    const said = issue.message.replace(/^Invalid input: /, '')
    return /got |received /.test(said)
      ? `${place}: ${said}`
      : `${place}: ${said}, got ${actualAt(json, issue.path)}`
  })
}

/**
 * The site with another flat price from a day on: bands and charges go on as they were on that day's eve.
 */
export function withPriceFrom(
  site: Site,
  from: string,
  price: string,
): { site: Site | null; errors: readonly string[] } {
  const value = Number(price.trim().replace(',', '.'))
  if (price.trim() === '' || Number.isNaN(value))
    return { site: null, errors: [`Price: expected a number, got "${price}"`] }
  const earlier = (site.tariffs ?? [])
    .filter((one) => one.from <= from && from <= (one.until ?? from))
    .sort((a, b) => a.from.localeCompare(b.from))
    .at(-1)
  const { bands = [], demand, reactive } = earlier ?? site.tariff ?? {}
  const version = { from, energyPricePerKWh: value, bands, demand, reactive }
  const read = siteSchema.safeParse({ ...site, tariffs: [...(site.tariffs ?? []), version] })
  if (!read.success)
    return { site: null, errors: fileErrors(read.error, { tariffs: [...(site.tariffs ?? []), version] }) }
  return { site: read.data, errors: [] }
}
