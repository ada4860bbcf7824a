import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'

const API = join(process.cwd(), 'app', 'api')
/** The description does not describe itself. */
const ITSELF = 'get /api/openapi.json'

/** Every method of every route file, as `get /api/logs/{id}`. */
export function routesInFiles(): string[] {
  const files = readdirSync(API, { recursive: true, encoding: 'utf8' }).filter((name) =>
    /(^|[\\/])route\.ts$/.test(name),
  )
  return files
    .flatMap((file) => {
      const path = `/api/${relative('.', dirname(file))
        .replaceAll('\\', '/')
        .replace(/\[(\w+)\]/g, '{$1}')}`
      const text = readFileSync(join(API, file), 'utf8')
      return [...text.matchAll(/export const (GET|POST|PUT|DELETE|PATCH|HEAD|OPTIONS) /g)].map(
        ([, method]) => `${method.toLowerCase()} ${path}`,
      )
    })
    .filter((route) => route !== ITSELF)
    .sort()
}
