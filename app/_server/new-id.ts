import { randomUUID } from 'node:crypto'

export const newId = (): string => randomUUID()

/** A readable id from a name: letters and digits, joined by hyphens. */
export function slug(name: string): string {
  const plain = name.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase()
  return (
    plain
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '')
      .slice(0, 60) || 'machine'
  )
}
