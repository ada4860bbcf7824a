import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, posix } from 'node:path'
import { fileURLToPath } from 'node:url'

/** The repository's root folder, with a slash at its end. */
export const ROOT = fileURLToPath(new URL('../..', import.meta.url))

export interface SourceFile {
  /** From the root, with slashes: `lib/units.ts`. */
  readonly path: string
  readonly text: string
}

/** The TypeScript files below some of the root's folders. */
export function sourcesOf(...folders: readonly string[]): SourceFile[] {
  return folders
    .filter((folder) => existsSync(join(ROOT, folder)))
    .flatMap((folder) =>
      readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map((file) =>
        posix.join(folder, file.replaceAll('\\', '/')),
      ),
    )
    .filter((path) => /\.tsx?$/.test(path))
    .sort()
    .map((path) => ({ path, text: readFileSync(join(ROOT, path), 'utf8') }))
}

/** The text without its comments; lines stay where they are. */
export function withoutComments(text: string): string {
  const blank = (comment: string) => comment.replace(/[^\n]/g, ' ')
  return text.replace(/(?<![^\s{(,;])\/\*[\s\S]*?\*\//g, blank).replace(/(?<=^|\s)\/\/.*$/gm, blank)
}

export interface Import {
  /** A package's name, or a path from the root without extension: `lib/units`. */
  readonly target: string
  readonly isInside: boolean
  readonly typeOnly: boolean
}

const FROM = /^\s*(?:import|export)\s+(type\s+)?(?:[\w*{][^'"`;]*?\sfrom\s+)?['"]([^'"]+)['"]/gm
const CALLED = /\b(?:import|require)\(\s*['"]([^'"]+)['"]|new URL\(\s*['"](\.[^'"]+)['"]\s*,\s*import\.meta/g

/** What a file imports, in any of the ways a module can. */
export function importsOf({ path, text }: SourceFile): Import[] {
  const code = withoutComments(text)
  const from = [...code.matchAll(FROM)].map((match) => ({ name: match[2], typeOnly: match[1] !== undefined }))
  const called = [...code.matchAll(CALLED)].map((match) => ({ name: match[1] ?? match[2], typeOnly: false }))
  return [...from, ...called].map(({ name, typeOnly }) => {
    const isInside = name.startsWith('@/') || name.startsWith('.')
    const inside = name.startsWith('@/') ? name.slice(2) : posix.join(dirname(path), name)
    return { target: isInside ? inside.replace(/\.tsx?$/, '') : name, isInside, typeOnly }
  })
}

/** Lines a file has. */
export function lineCount(text: string): number {
  return text.replace(/\n$/, '').split('\n').length
}
