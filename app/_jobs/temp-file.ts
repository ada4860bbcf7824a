import { randomUUID } from 'node:crypto'
import { mkdirSync } from 'node:fs'
import { readdir, rm, stat, statfs } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** No import takes this long: what is older was left by a process that died. */
const LEFT_BEHIND_MS = 86_400_000
/** How long an upload that can be gone on with is kept, whole or not, from its beginning. */
export const RESUMABLE_MS = 3 * 86_400_000

/** A folder of this project's own, read by its user alone. */
function ownFolder(name: string): string {
  const path = join(process.env.TANKWARD_UPLOADS ?? tmpdir(), name)
  mkdirSync(path, { recursive: true, mode: 0o700 })
  return path
}

const folder = (): string => ownFolder('tankward-uploads')

/** Where uploads that can be gone on with wait: a file each, and one beside it with its length. */
export const resumableFolder = (): string => ownFolder('tankward-resumable')

/** A new name for a file that is on its way in. */
export function tempFile(): string {
  return join(folder(), randomUUID())
}

export async function removeTempFile(path: string): Promise<void> {
  await rm(path, { force: true })
}

/** Bytes that still fit where uploads are kept. */
export async function freeBytes(): Promise<number> {
  const { bavail, bsize } = await statfs(folder())
  return bavail * bsize
}

/** Whether a file was last written before an instant; another process may remove its own meanwhile. */
async function isOlder(path: string, than: number): Promise<boolean> {
  const found = await stat(path).catch(() => null)
  return found !== null && found.mtimeMs < than
}

/** Removes files that processes left behind when they died, and uploads that nobody went on with. */
export async function removeOldTempFiles(now: Date): Promise<void> {
  for (const name of await readdir(folder())) {
    const path = join(folder(), name)
    if (await isOlder(path, now.getTime() - LEFT_BEHIND_MS)) await removeTempFile(path)
  }
  const uploads = await readdir(resumableFolder())
  for (const id of new Set(uploads.map((name) => name.replace(/\.json$/, '')))) {
    const path = join(resumableFolder(), id)
    // What stands beside it is written once, when the upload begins.
    const began = uploads.includes(`${id}.json`) ? `${path}.json` : path
    if (!(await isOlder(began, now.getTime() - RESUMABLE_MS))) continue
    await removeTempFile(path)
    await removeTempFile(`${path}.json`)
  }
}
